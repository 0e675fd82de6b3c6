// A restored shed has lost what this phone wrote under its earlier incarnations too. The phone fills
// those in, one conversation each, the oldest first, and then goes on under the present one
// (PROTOCOL.md, section 5, 2.).

import type { Book } from './book'
import { lastUnmoved } from './pushing'

export class Filling {
  private readonly left: string[]

  constructor(
    book: Book,
    /** Of the shed that is filled. */
    readonly epoch: string,
    /** Incarnations whose past that shed does not follow. */
    skipped: ReadonlySet<string>,
  ) {
    this.left = book.pen.formers.filter(former => !skipped.has(former) && lastUnmoved(book.own, former) > 0).reverse()
  }

  /** The incarnation to be filled now; undefined where all are. */
  get former(): string | undefined {
    return this.left[0]
  }

  next(): void {
    this.left.shift()
  }
}

/** Tells whether the shed of an epoch may lack what the earlier incarnations wrote. */
export function mayLack(book: Book, epoch: string): boolean {
  return book.pen.formers.length > 0 && book.pen.filled !== epoch
}
