// A new incarnation, taken when the phone's past cannot be proven: everything that the shed may lack
// is said again under it, each change naming its former identity, so that nothing is lost and nothing
// counts twice (PROTOCOL.md, section 5, 2.).

import type { DraftOperation, OwnOperation, Pen, Write } from '../db/records'
import { canonical } from '../log/canonical'
import { chainAfter, chainStart } from '../log/chain'
import type { Change, Fact } from '../log/change'
import { extraFormer, firstIdentity, formerOf, identityOf } from '../log/identity'
import type { Book } from './book'
import type { Framed } from './own_log'
import { mayBeOlder } from './filling'
import { planForgetCursor } from './history'
import type { Welcome } from './messages'
import { unsettled } from './settling'

/** welcome is that of the shed which does not follow the past. */
export function planReincarnation(book: Book, incarnation: string, welcome: Welcome): Write[] {
  const { filled, ...pen } = book.pen
  const older = mayBeOlder(book, welcome)
  // An acknowledgement by a shed that has since been restored proves nothing.
  const { writes, seq } = movedTo(book, incarnation, older ? book.own.beyond(pen.incarnation, 0) : unsettled(book))
  const next: Pen = {
    ...pen, incarnation, formers: [pen.incarnation, ...pen.formers], seq, settled: 0,
    // An older shed may lack what the other formers wrote, too.
    ...(filled !== undefined && !older && { filled }),
  }
  const drafts = [...book.drafts.values()].map(d => ({ kind: 'draft' as const, draft: inPlace(book, d) }))
  // What a copy of this phone wrote was passed over as its own, so all is read anew.
  return [{ kind: 'pen', pen: next }, ...writes, ...drafts, ...planForgetCursor(book)]
}

/**
 * Says again what a former incarnation wrote, where the shed has another past under its name. That gets
 * an incarnation of its own, which is a former one from the start and is filled as those are: its stamps
 * lie before those of the present one. What was moved before stands for itself elsewhere.
 */
export function planFormerAgain(book: Book, former: string, incarnation: string): Write[] {
  const { pen } = book
  const unmoved = book.own.beyond(former, 0).filter(({ operation }) => !operation.moved)
  const formers = pen.formers.flatMap(one => (one === former ? [incarnation, one] : [one]))
  return [{ kind: 'pen', pen: { ...pen, formers } }, ...movedTo(book, incarnation, unmoved).writes]
}

/** The operations under a new incarnation, from seq 1, and marked as moved where they were. */
function movedTo(book: Book, incarnation: string, operations: readonly Framed[]): { writes: Write[]; seq: number } {
  const writes: Write[] = []
  let seq = 0
  let hash = chainStart(book.farm, incarnation)
  for (const framed of operations) {
    const again = saidAgain(framed, incarnation, seq + 1, hash)
    writes.push({ kind: 'own', operation: { ...framed.operation, moved: true } }, { kind: 'own', operation: again })
    seq += again.texts.length
    hash = again.hash
  }
  return { writes, seq }
}

function saidAgain({ operation, changes }: Framed, incarnation: string, first: number, before: string): OwnOperation {
  const texts = changes.map((change, i) => canonical({
    ...change,
    incarnation,
    seq: first + i,
    extra: { ...change.extra, [extraFormer]: firstIdentity(change) },
  }))
  // A restored shed is to give each change the order that it had.
  const { orders } = operation
  return { incarnation, first, texts, hash: chainAfter(before, texts), orders, refused: [], held: [], moved: false }
}

function inPlace(book: Book, draft: DraftOperation): DraftOperation {
  return { ...draft, facts: draft.facts.map(f => ({ ...f, fact: inPlaceOf(book, f.fact) })) }
}

/**
 * A drafted count holds what this phone had counted before; it must replace that and not add to it.
 * Where a copy of this phone has sent the same draft, it did so under the former incarnation: then
 * too only one of the two may count, so the identity that the draft would have had is named.
 */
function inPlaceOf(book: Book, fact: Fact): Fact {
  if (fact.op !== 'count' || formerOf(fact)) return fact
  const { incarnation, seq } = book.pen
  const last = lastOwn(book, fact)
  const former = last ? firstIdentity(last) : identityOf(incarnation, seq + 1)
  return { ...fact, extra: { ...fact.extra, [extraFormer]: former } }
}

/** The last framed change of this phone in the cell. */
function lastOwn(book: Book, { type, id, field }: Fact): Change | undefined {
  const log = book.own.beyond(book.pen.incarnation, 0).flatMap(framed => framed.changes)
  return log.findLast(c => c.op === 'count' && c.type === type && c.id === id && c.field === field)
}
