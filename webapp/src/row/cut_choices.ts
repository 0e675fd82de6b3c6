// What a device chooses of the cut list: until when deliveries are cut for, how many stems go into a bucket, and which
// rows were ticked off by hand. Kept here and never synced.

import { signal } from '@preact/signals'
import type { BedID, ColourID, Day } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'

interface Ticked {
  readonly day: Day
  /** `rowKey` of each. */
  readonly rows: readonly string[]
}

interface Choices {
  /** Days after today. */
  readonly ahead: number
  readonly bucket: number
  readonly ticked: Ticked | undefined
}

const kept = { ahead: 'row.cuts.ahead', bucket: 'row.cuts.bucket', ticked: 'row.cuts.ticked' } as const

/** Deliveries until the day after tomorrow; a hundred stems a bucket: common practice, no source. */
const usual = { ahead: 2, bucket: 100 }
const choices = new WeakMap<Notebook, CutChoices>()

export class CutChoices {
  /** Why the last choice was not kept; it holds until the page is closed. */
  readonly failure = signal<unknown>(undefined)
  private readonly now
  private readonly notebook: Notebook

  constructor(notebook: Notebook) {
    this.notebook = notebook
    this.now = signal<Choices>({
      ahead: notebook.kept<number>(kept.ahead) ?? usual.ahead, bucket: notebook.kept<number>(kept.bucket) ?? usual.bucket,
      ticked: notebook.kept<Ticked>(kept.ticked),
    })
  }

  static of(notebook: Notebook): CutChoices {
    const one = choices.get(notebook) ?? new CutChoices(notebook)
    choices.set(notebook, one)
    return one
  }

  get ahead(): number {
    return this.now.value.ahead
  }

  get bucket(): number {
    return this.now.value.bucket
  }

  isTicked(day: Day, row: string): boolean {
    const { ticked } = this.now.value
    return ticked?.day === day && ticked.rows.includes(row)
  }

  setAhead(ahead: number): void {
    this.change({ ahead })
  }

  setBucket(bucket: number): void {
    this.change({ bucket })
  }

  /** Ticks a row off for a day, or takes that back. */
  tick(day: Day, row: string, on: boolean): void {
    const { ticked } = this.now.peek()
    const others = ticked?.day === day ? ticked.rows.filter((one) => one !== row) : []
    this.change({ ticked: { day, rows: on ? [...others, row] : others } })
  }

  private change(choice: Partial<Choices>): void {
    this.now.value = { ...this.now.peek(), ...choice }
    const alongside = Object.fromEntries(Object.entries(choice).map(([name, value]) => [kept[name as keyof Choices], value]))
    this.notebook.recordInTurn(() => ({ facts: [], alongside }))
      .then(() => { this.failure.value = undefined }, (reason: unknown) => { this.failure.value = reason })
  }
}

export function rowKey({ bed, colour }: { readonly bed: BedID; readonly colour: ColourID | '' }): string {
  return `${bed}|${colour}`
}
