// Which of the framed changes go into the next push: whole operations, in seq order.

import type { Stamp } from '../log/change'
import { maxFrameChanges } from '../log/check'
import type { Book } from './book'
import type { SeqOrder } from './messages'
import { lastSeq } from './own_log'

/** A push of several operations stays below this many characters, so that it is on its way soon. */
const pushCharacters = 256 << 10

export interface Push {
  /** Seq of the last change in it. */
  readonly to: number
  readonly texts: readonly string[]
  /** The orders that a shed had given before it was restored. */
  readonly orders: readonly SeqOrder[]
}

/** The push that follows the given seq; undefined where nothing is framed beyond it. */
export function nextPush(book: Book, sent: number): Push | undefined {
  const texts: string[] = []
  const orders: SeqOrder[] = []
  let to = sent
  let characters = 0
  for (const { operation } of book.own.beyond(book.pen.incarnation, sent)) {
    characters += operation.texts.reduce((n, text) => n + text.length, 0)
    const full = texts.length + operation.texts.length > maxFrameChanges || characters > pushCharacters
    if (texts.length > 0 && full) break
    texts.push(...operation.texts)
    orders.push(...operation.orders.flatMap((order, i) => known(operation.first + i, order)))
    to = lastSeq(operation)
  }
  return texts.length > 0 ? { to, texts, orders } : undefined
}

function known(seq: number, order: Stamp | null): SeqOrder[] {
  return order ? [{ seq, order }] : []
}
