// What stands while a batch of bunches is written down: what is stored, and what those before it in the batch add.

import { packedCount, packedFacts } from '../crop/sale_facts'
import { lotCell } from '../crop/lots'
import { type Day, mostBenchStems } from '../crop/nouns'
import { type LineID, mostBunches, type PackedID } from '../crop/sale_nouns'
import type { Fact } from '../log/change'
import type { CellReading, Notebook } from '../sync/notebook'
import { ChangedSince, OverTheMost } from '../ui/taps'
import { DayNow, dayNow } from './day_now'
import { type DueLine, packedOf, type PackedSoFar } from './due_lines'

/** Bunches of one line made alike: below zero they are taken back. */
export interface Adding {
  readonly packed: PackedID
  readonly line: LineID
  readonly bunches: number
  /** By lot (`lotCell`). */
  readonly stems: ReadonlyMap<string, number>
}

interface Cell {
  readonly packed: PackedID
  readonly name: string
  readonly own: number
  readonly total: number
}

export class Tally {
  private readonly cells = new Map<string, Cell>()
  private readonly begun = new Map<PackedID, readonly Fact[]>()
  private readonly added: Adding[] = []

  constructor(private readonly notebook: Notebook, private readonly today: Day) {}

  /** Under which id this device writes for a line, which is begun where it is new. */
  packedID(due: DueLine): PackedID {
    const id = this.notebook.packedID(due.line.id, this.today)
    if (!this.notebook.farm.peek().sales.packed.has(id) && !this.begun.has(id)) {
      const person = this.notebook.person.peek()
      this.begun.set(id, packedFacts({ id, line: due.line.id, buyer: due.buyer, due: due.day, date: this.today, person }))
    }
    return id
  }

  packedOf(line: LineID): PackedSoFar {
    return this.withAdded(line, packedOf(this.notebook.farm.peek().sales, line))
  }

  /** The lines and the lots of a day. */
  now(day: Day): DayNow {
    const stored = dayNow(this.notebook.farm.peek(), day, this.today)
    if (this.added.length === 0) return stored
    const taken = new Map<string, number>()
    for (const { stems } of this.added) for (const [lot, n] of stems) taken.set(lot, (taken.get(lot) ?? 0) + n)
    return new DayNow(
      stored.lines.map((one) => ({ ...one, packed: this.withAdded(one.line.id, one.packed) })),
      stored.lots.map((lot) => ({ ...lot, left: lot.left - (taken.get(lotCell(lot.id)) ?? 0) })),
    )
  }

  private withAdded(line: LineID, stored: PackedSoFar): PackedSoFar {
    let bunches = stored.bunches
    const stems = new Map(stored.stems)
    for (const one of this.added) {
      if (one.line !== line) continue
      bunches += one.bunches
      for (const [lot, n] of one.stems) stems.set(lot, (stems.get(lot) ?? 0) + n)
    }
    return { bunches, stems }
  }

  /** Adds all of it or nothing: why not, where it cannot be. */
  add(adding: Adding): Error | undefined {
    const next = [this.moved(adding.packed, 'bunches', adding.bunches), ...[...adding.stems].map(([lot, n]) => this.moved(adding.packed, lot, n))]
    const problem = next.map(problemOf).find((one) => one !== undefined)
    if (problem) return problem
    for (const cell of next) this.cells.set(keyOf(cell.packed, cell.name), cell)
    this.added.push(adding)
    return undefined
  }

  /** One operation: what is begun, and every cell as it ends. */
  facts(): Fact[] {
    const begun = [...this.begun].filter(([id]) => this.added.some(({ packed }) => packed === id)).flatMap(([, facts]) => facts)
    return [...begun, ...[...this.cells.values()].map(({ packed, name, own }) => packedCount(packed, name, own))]
  }

  private moved(packed: PackedID, name: string, by: number): Cell {
    const { own, total }: Pick<CellReading, 'own' | 'total'> = this.cells.get(keyOf(packed, name)) ?? this.notebook.cell(packed, name)
    return { packed, name, own: own + by, total: total + by }
  }
}

function keyOf(packed: PackedID, name: string): string {
  return `${packed} ${name}`
}

function problemOf({ name, own, total }: Cell): Error | undefined {
  const most = name === 'bunches' ? mostBunches : mostBenchStems
  if (own < 0 || total < 0) return new ChangedSince()
  return own > most || total > most ? new OverTheMost(most) : undefined
}
