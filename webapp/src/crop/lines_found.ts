// Lines of which something is wrong, found by a look at those that changed: a tap on a packing screen touches one line, and
// what makes any line wrong is written seldom.

import type { LineID, Packed, Sales } from './sale_nouns'

export class LinesFound {
  /** Another set when it changes. */
  found: ReadonlySet<LineID> = new Set()
  private readonly touched = new Set<LineID>()
  private all = false

  /** Candidates are all lines of which it may be so; after a change of a type of `wide` all of them are looked at. */
  constructor(
    private readonly isWrong: (sales: Sales, line: LineID) => boolean,
    private readonly candidates: (sales: Sales) => Iterable<LineID>,
    private readonly wide: readonly string[],
  ) {}

  touch(type: string, before: unknown, now: unknown): void {
    if (type === 'packed') for (const packed of [before, now] as (Packed | undefined)[]) if (packed) this.touched.add(packed.line)
    if (this.wide.includes(type)) this.all = true
  }

  clear(): void {
    this.found = new Set()
    this.touched.clear()
    this.all = false
  }

  /** Tells whether it found others than before. */
  settle(sales: Sales): boolean {
    if (!this.all && this.touched.size === 0) return false
    const found = new Set(this.all ? [] : this.found)
    for (const line of this.all ? this.candidates(sales) : this.touched) {
      if (this.isWrong(sales, line)) found.add(line)
      else found.delete(line)
    }
    this.touched.clear()
    this.all = false
    const same = found.size === this.found.size && [...found].every((line) => this.found.has(line))
    if (!same) this.found = found
    return !same
  }
}
