// Two counts of the same stems laid over each other: a fuller one, which may not be whole yet, and one that is part of it.

import { bedCell, plantCell } from './cells'
import { type Count, gradesHighToLow } from './nouns'

export type Stems = Count

export interface Layers {
  /** The fuller count; stems of it whose colour only the other tells are left to that. */
  readonly total: readonly Stems[]
  /** What of the other the fuller one does not hold yet. */
  readonly rest: readonly Stems[]
}

export function layered(fuller: readonly Stems[], part: readonly Stems[]): Layers {
  const total = new Cells(fuller)
  const rest = new Cells(part)
  for (const colour of total.colours()) if (colour !== '') takeSame(total.of(colour), rest.of(colour))
  // A bucket whose colour nobody told holds stems whose colours the row knows.
  total.take('', rest.told())
  const untold = total.sum('') + surplus(fuller, part)
  rest.take('', untold)
  return { total: total.list(), rest: rest.list() }
}

/** Takes what the fuller count holds out of the other: the very same cell first, then what was told least of, then the poorest. */
function takeSame(fuller: readonly MutableStems[], part: MutableStems[]): void {
  const unmatched = fuller.map((cell) => {
    const same = part.find((other) => plantCell(other.grade, other.length) === plantCell(cell.grade, cell.length))
    const n = Math.min(cell.stems, same?.stems ?? 0)
    if (same) same.stems -= n
    return cell.stems - n
  }).reduce((sum, n) => sum + n, 0)
  takeFrom([...part].sort((a, b) => told(a) - told(b) || a.length.lo - b.length.lo || rank(b) - rank(a)), unmatched)
}

function takeFrom(cells: readonly MutableStems[], stems: number): void {
  for (const cell of cells) {
    const n = Math.min(cell.stems, stems)
    cell.stems -= n
    stems -= n
  }
}

/** Stems of told colours that the fuller count holds beyond the other's: those may be what the other saw no colour of. */
function surplus(fuller: readonly Stems[], part: readonly Stems[]): number {
  const [above, below] = [new Cells(fuller), new Cells(part)]
  return above.colours().filter((colour) => colour !== '').reduce((sum, colour) => sum + Math.max(0, above.sum(colour) - below.sum(colour)), 0)
}

function told({ grade, length }: Stems): number {
  return Number(grade !== '') + Number(length.hi > 0)
}

function rank({ grade }: Stems): number {
  return grade === '' ? -1 : gradesHighToLow.indexOf(grade)
}

type MutableStems = { -readonly [K in keyof Stems]: Stems[K] }

class Cells {
  private readonly cells: MutableStems[] = []

  constructor(cells: readonly Stems[]) {
    const found = new Map<string, MutableStems>()
    for (const cell of cells) {
      const before = found.get(keyOfCell(cell))
      if (before) before.stems += cell.stems
      else found.set(keyOfCell(cell), { ...cell })
    }
    this.cells.push(...found.values())
  }

  colours(): Stems['colour'][] {
    return [...new Set(this.cells.map(({ colour }) => colour))]
  }

  of(colour: Stems['colour']): MutableStems[] {
    return this.cells.filter((cell) => cell.colour === colour)
  }

  sum(colour: Stems['colour']): number {
    return this.of(colour).reduce((sum, { stems }) => sum + stems, 0)
  }

  /** Stems whose colour was told. */
  told(): number {
    return this.cells.reduce((sum, { colour, stems }) => sum + (colour === '' ? 0 : stems), 0)
  }

  take(colour: Stems['colour'], stems: number): void {
    takeFrom(this.of(colour), stems)
  }

  list(): Stems[] {
    return this.cells.filter(({ stems }) => stems > 0)
  }
}

export function keyOfCell({ colour, grade, length }: Omit<Stems, 'stems'>): string {
  return bedCell(colour, grade, length)
}
