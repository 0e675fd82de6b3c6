// What became of the stems of each lot, kept up to date visit by visit, so that a tap does not scan a year.

import { lotCell, parseLotCell } from './lots'
import type { BedID, Day, Visit } from './nouns'
import type { LotID, Packed, PackedID, Shrink } from './sale_nouns'

/** What came of a lot over the bench and what was taken out of it. */
export interface LotCount {
  readonly id: LotID
  readonly came: number
  readonly packed: number
  readonly shrink: number
}

/** The lots by their names (`lotCell`); a new object whenever something of them changed. */
export interface Lots {
  readonly of: ReadonlyMap<string, LotCount>
  /** Those that are not used up, and those of which more was taken out than came. */
  readonly open: ReadonlySet<string>
  /** Those of which more was taken out than came. */
  readonly over: ReadonlySet<string>
  /** By bed and cut day (`cutKey`). */
  readonly on: ReadonlyMap<string, ReadonlySet<string>>
  /** What was packed of a lot. */
  readonly packedOf: ReadonlyMap<string, ReadonlySet<PackedID>>
}

/** Names the lots that a bed gave on a day. */
export function cutKey(bed: BedID | '', cut: Day): string {
  return `${cut}|${bed}`
}

export function leftOf({ came, packed, shrink }: LotCount): number {
  return came - packed - shrink
}

type Part = 'came' | 'packed' | 'shrink'

export class LiveLots {
  private readonly of = new Map<string, LotCount>()
  private readonly open = new Set<string>()
  private readonly over = new Set<string>()
  private readonly on = new Map<string, Set<string>>()
  private readonly packedOf = new Map<string, Set<PackedID>>()
  private now: Lots | undefined

  /** The same object until something of it changes. */
  get lots(): Lots {
    const { of, open, over, on, packedOf } = this
    this.now ??= { of, open, over, on, packedOf }
    return this.now
  }

  clear(): void {
    for (const map of [this.of, this.open, this.over, this.on, this.packedOf]) map.clear()
    this.now = undefined
  }

  /** A visit as it was and as it is; only what comes over the bench is of a lot. */
  takeVisit(before: Visit | undefined, now: Visit | undefined): void {
    if (before?.purpose === 'bench') this.addVisit(before, -1)
    if (now?.purpose === 'bench') this.addVisit(now, 1)
  }

  takePacked(before: Packed | undefined, now: Packed | undefined): void {
    for (const [cell, stems] of before?.stems ?? []) {
      this.add(cell, 'packed', -stems)
      this.packedOf.get(cell)?.delete(before!.id)
    }
    for (const [cell, stems] of now?.stems ?? []) {
      this.add(cell, 'packed', stems)
      fileUnder(this.packedOf, cell, now!.id)
    }
  }

  takeShrink(before: Shrink | undefined, now: Shrink | undefined): void {
    if (before) this.add(lotCell(before.lot), 'shrink', -before.stems)
    if (now) this.add(lotCell(now.lot), 'shrink', now.stems)
  }

  /** What cannot be sold is no lot. */
  private addVisit(visit: Visit, sign: 1 | -1): void {
    for (const { colour, grade, length, stems } of visit.counts) {
      if (grade !== 'out') this.add(lotCell({ bed: visit.bed, cut: visit.date, colour, grade, length }), 'came', sign * stems)
    }
  }

  private add(cell: string, part: Part, stems: number): void {
    const before = this.of.get(cell)
    const id = before?.id ?? parseLotCell(cell)
    if (!id) return // of no day that there is
    const was = before ?? { id, came: 0, packed: 0, shrink: 0 }
    this.put(cell, { ...was, [part]: was[part] + stems })
  }

  private put(cell: string, lot: LotCount): void {
    this.now = undefined
    const { id, came, packed, shrink } = lot
    const key = cutKey(id.bed, id.cut)
    mark(this.open, cell, leftOf(lot) !== 0)
    mark(this.over, cell, leftOf(lot) < 0)
    if (came === 0 && packed === 0 && shrink === 0) {
      this.of.delete(cell)
      this.on.get(key)?.delete(cell)
      return
    }
    this.of.set(cell, lot)
    fileUnder(this.on, key, cell)
  }
}

function mark(set: Set<string>, cell: string, on: boolean): void {
  if (on) set.add(cell)
  else set.delete(cell)
}

function fileUnder<T>(map: Map<string, Set<T>>, under: string, id: T): void {
  const there = map.get(under)
  if (there) there.add(id)
  else map.set(under, new Set([id]))
}
