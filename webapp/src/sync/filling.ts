// A restored shed has lost what this phone wrote under its earlier incarnations too. The phone fills
// those in, one conversation each, the oldest first, and then goes on under the present one
// (PROTOCOL.md, section 5, 2.).

import type { Write } from '../db/records'
import type { Book } from './book'
import { cursorOf, planForgetCursor } from './history'
import type { Welcome } from './messages'
import { lastUnmoved } from './pushing'

type Greeting = Pick<Welcome, 'epoch' | 'resume'>

export class Filling {
  /** Of the shed that is filled. */
  readonly epoch: string
  private readonly left: string[]
  private readonly resumes: boolean

  constructor(book: Book, { epoch, resume }: Greeting) {
    this.epoch = epoch
    this.resumes = resume
    this.left = book.pen.formers.filter(former => lastUnmoved(book.own, former) > 0).reverse()
  }

  /** The incarnation to be filled now; undefined where all are. */
  get former(): string | undefined {
    return this.left[0]
  }

  next(): void {
    this.left.shift()
  }

  /** Notes that all are filled: a cursor that did not hold would call for it again. */
  planDone(book: Book): Write[] {
    const filled: Write = { kind: 'pen', pen: { ...book.pen, filled: this.epoch } }
    return this.resumes ? [filled] : [filled, ...planForgetCursor(book)]
  }
}

/**
 * Tells whether the shed may be an older copy of the one that the phone last read from. Other scopes
 * look the same, and do no harm.
 */
export function mayBeOlder(book: Book, { epoch, resume }: Greeting): boolean {
  const cursor = cursorOf(book.reading)
  const known = book.pen.filled ?? cursor?.epoch
  return (known !== undefined && known !== epoch) || (cursor !== null && !resume)
}

/** Tells whether the shed may lack what the earlier incarnations wrote. */
export function mayLack(book: Book, greeting: Greeting): boolean {
  const { formers, filled } = book.pen
  return formers.length > 0 && (filled !== greeting.epoch || mayBeOlder(book, greeting))
}
