// A restored shed has lost what this phone wrote under its earlier incarnations too. The phone fills
// those in, one conversation each, the oldest first, and then goes on under the present one
// (PROTOCOL.md, section 5, 2.).

import type { Write } from '../db/records'
import type { Book } from './book'
import { cursorOf, planForgetCursor } from './history'
import type { Welcome } from './messages'
import { lastUnmoved } from './pushing'

type Greeting = Pick<Welcome, 'epoch' | 'resume' | 'seq'>

export class Filling {
  /** Of the shed that is filled. */
  readonly epoch: string
  /** What that shed had settled of the present incarnation. */
  private readonly settled: number
  private readonly done = new Set<string>()

  /** givenUp are those that a shed would not take, as long as the app runs; more are added here. */
  constructor(private readonly book: Book, { epoch, seq }: Greeting, private readonly givenUp = new Set<string>()) {
    this.epoch = epoch
    this.settled = seq
  }

  /** The incarnation to be filled now, also one that was taken since to say another's changes again; undefined where all are. */
  get former(): string | undefined {
    return this.book.pen.formers.findLast(former => !this.done.has(former) && !this.givenUp.has(former) && lastUnmoved(this.book.own, former) > 0)
  }

  next(): void {
    const { former } = this
    if (former !== undefined) this.done.add(former)
  }

  /** The shed takes this one for broken: it is not filled, but the others must not wait for it. */
  giveUp(): void {
    const { former } = this
    if (former !== undefined) this.givenUp.add(former)
  }

  /**
   * Notes that all are filled, if they are. A cursor that did not hold, or a seq below what was known to be settled,
   * would call for it again; and the shed may have judged otherwise now, so everything is read anew.
   */
  planDone(): Write[] {
    const { book } = this
    const settled = Math.min(book.pen.settled, this.settled)
    const pen = { ...book.pen, settled, ...(this.givenUp.size === 0 && { filled: this.epoch }) }
    return [{ kind: 'pen', pen }, ...planForgetCursor(book)]
  }
}

/**
 * Tells whether the shed may be an older copy of the one that the phone last read from: its epoch is
 * another (or the phone no longer knows which it was), the cursor does not hold, or it has settled less
 * than the phone was told. Other scopes look the same as the second, and do no harm.
 */
export function mayBeOlder(book: Book, { epoch, resume, seq }: Greeting): boolean {
  const { filled, settled } = book.pen
  const cursor = cursorOf(book.reading)
  const known = filled ?? cursor?.epoch
  if (known === undefined) return settled > 0
  return known !== epoch || (cursor !== null && !resume) || seq < settled
}

/** Tells whether the shed may lack what the earlier incarnations wrote. */
export function mayLack(book: Book, greeting: Greeting): boolean {
  const { formers, filled } = book.pen
  return formers.length > 0 && (filled !== greeting.epoch || mayBeOlder(book, greeting))
}
