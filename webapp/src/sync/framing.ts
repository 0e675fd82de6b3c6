// Framing: drafts get their seq, their bytes and their place in the chain, once and for all. It is
// stored before anything is sent.

import type { DraftOperation, OwnOperation, Pen, Write } from '../db/records'
import { canonical } from '../log/canonical'
import { chainAfter } from '../log/chain'
import { maxFrameChanges } from '../log/check'
import { compareStamps } from '../log/order'
import type { Book } from './book'

/** Frames the oldest drafts, as many as one push can carry; all of them where asked. */
export function planFraming(book: Book, all = false): Write[] {
  const inOrder = [...book.drafts.values()].sort((a, b) => compareStamps(a.stamp, b.stamp))
  const taken: DraftOperation[] = []
  let changes = 0
  for (const draft of inOrder) {
    changes += draft.facts.length
    if (!all && taken.length > 0 && changes > maxFrameChanges) break
    taken.push(draft)
  }
  return taken.length > 0 ? frame(book, book.pen, taken) : []
}

/** Frames the drafts in the order given, in which their stamps grow. */
export function frame(book: Book, pen: Pen, drafts: readonly DraftOperation[]): Write[] {
  const writes: Write[] = []
  let { seq } = pen
  let hash = book.own.hashAt(pen.incarnation, seq)
  if (hash === undefined) throw new Error(`framing: the own log does not reach seq ${seq}`)
  for (const draft of drafts) {
    const operation = operationOf(draft, pen.incarnation, seq + 1, hash)
    writes.push({ kind: 'drop_draft', draft: draft.id }, { kind: 'own', operation })
    seq += operation.texts.length
    hash = operation.hash
  }
  return [...writes, { kind: 'pen', pen: { ...pen, seq } }]
}

function operationOf(draft: DraftOperation, incarnation: string, first: number, before: string): OwnOperation {
  const last = draft.facts.length - 1
  const texts = draft.facts.map(({ fact, person }, i) =>
    canonical({ ...fact, person, incarnation, seq: first + i, stamp: draft.stamp, rest: last - i }))
  return {
    incarnation, first, texts, hash: chainAfter(before, texts), orders: texts.map(() => null), refused: [], held: [], moved: false,
  }
}
