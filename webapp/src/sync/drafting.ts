// Recording facts. Until they are framed they are drafts, in which a later fact takes the place of
// an earlier one of the same slot: a hundred taps travel as the few count cells they ended in.

import type { DraftFact, DraftOperation, Write } from '../db/records'
import { maxElements } from '../log/batch'
import type { Fact } from '../log/change'
import { textLength } from '../log/bytes'
import { checkFact, checkPerson, maxChangeBytes, maxFrameChanges, maxOperationBytes, maxOperationChanges } from '../log/check'
import { tick } from '../log/clock'
import { extraFormer, formerOf } from '../log/identity'
import { compareStamps } from '../log/order'
import { slotOfFact, stands } from '../log/record'
import { entityName, slotName } from '../log/state'
import type { Book } from './book'
import { frame } from './framing'
import { elementsOf } from './pushing'
import { RecordError } from './notebook'

interface Limits {
  readonly changes: number
  readonly bytes: number
  /** Of all lists. */
  readonly elements: number
}

/** A draft grows no further than a frame holds, well under the bytes that it may have. */
const draftLimits: Limits = { changes: maxFrameChanges, bytes: 2 << 20, elements: maxElements }
/** Of elements it may have any number: more than those of a frame are sent in parts. */
const operationLimits: Limits = { changes: maxOperationChanges, bytes: maxOperationBytes, elements: Infinity }
/** More than a change's identity, stamp and former identity take. */
const bytesBeside = 200

/** What is to be stored so that the facts are said; nothing where they stand already. */
export function planRecord(book: Book, facts: readonly Fact[], person: string, wall: number): Write[] {
  const said = latestOfEachSlot(book, facts.map(fact => goingOn(book, fact)))
  for (const fact of said.values()) refuseUnfit({ fact, person })
  const { incarnation, clock, draft } = book.pen
  const unsaid = new Map([...said].filter(([, f]) => !stands(f, book.entity(f.type, f.id), incarnation)))
  if (unsaid.size === 0) return []

  const touched = [...book.drafts.values()].filter(d => d.facts.some(({ fact }) => said.has(placeOf(book, fact))))
  const stamp = tick(clock, wall)
  const news = [...unsaid.values()].map(fact => ({ fact, person }))
  const joined = [...touched.flatMap(d => without(book, d, unsaid)), ...news]
  const joins = touched.length > 0 && fits(joined, draftLimits)
  if (!joins && !fits(news, operationLimits)) throw new RecordError('invalid', 'recording: more than one operation can hold; record it in parts')

  const operation = joins
    ? { id: touched[0]!.id, stamp, facts: joined }
    : { id: draft + 1, stamp, facts: news }
  const pen = { ...book.pen, clock: stamp, draft: Math.max(draft, operation.id) }
  const writes: Write[] = joins
    ? touched.slice(1).map(d => ({ kind: 'drop_draft', draft: d.id }))
    : touched.map(d => shortened(book, d, unsaid))
  writes.push({ kind: 'draft', draft: operation }, { kind: 'pen', pen })
  return news.some(({ fact }) => fact.op === 'correct') ? framedAtOnce(book, writes) : writes
}

/** A later correction must be able to name this one, so it gets its identity now. */
function framedAtOnce(book: Book, writes: readonly Write[]): Write[] {
  const drafts = new Map(book.drafts)
  let pen = book.pen
  for (const write of writes) {
    if (write.kind === 'draft') drafts.set(write.draft.id, write.draft)
    if (write.kind === 'drop_draft') drafts.delete(write.draft)
    if (write.kind === 'pen') pen = write.pen
  }
  const inOrder = [...drafts.values()].sort((a, b) => compareStamps(a.stamp, b.stamp))
  const dropped = writes.filter(write => write.kind === 'drop_draft')
  return [...dropped, ...frame(book, pen, inOrder)]
}

/** Names the slot of an entity in which a fact of this phone competes. */
function placeOf(book: Book, fact: Fact): string {
  return `${entityName(fact.type, fact.id)}\0${slotName(slotOfFact(fact, book.pen.incarnation))}`
}

function latestOfEachSlot(book: Book, facts: readonly Fact[]): Map<string, Fact> {
  const latest = new Map<string, Fact>()
  facts.forEach((fact, i) => {
    // Every correction has a slot of its own.
    const place = fact.op === 'correct' ? `correction ${i}` : placeOf(book, fact)
    latest.delete(place)
    latest.set(place, fact)
  })
  return latest
}

/**
 * A cell that this phone also wrote under a former incarnation goes on naming it, so that the two
 * never add up.
 */
function goingOn(book: Book, fact: Fact): Fact {
  if (fact.op !== 'count' || formerOf(fact)) return fact
  const slot = slotName(slotOfFact(fact, book.pen.incarnation))
  const standing = book.entity(fact.type, fact.id)?.slots.get(slot)?.entry
  const former = standing ? formerOf(standing) : ''
  return former ? { ...fact, extra: { ...fact.extra, [extraFormer]: former } } : fact
}

/** Refuses what could not be sent, or not again under a new incarnation, which names the former one. */
function refuseUnfit({ fact, person }: DraftFact): void {
  const again: Fact = { ...fact, extra: { [extraFormer]: 'any', ...fact.extra } }
  const tooLong = bytesOf({ fact, person }) > maxChangeBytes ? `it has more than ${maxChangeBytes} bytes` : undefined
  const why = checkPerson(person) ?? checkFact(again) ?? tooLong
  if (why) throw new RecordError('invalid', `recording ${fact.field} of ${fact.type} ${fact.id}: ${why}`)
}

function without(book: Book, draft: DraftOperation, places: ReadonlyMap<string, unknown>): DraftFact[] {
  return draft.facts.filter(({ fact }) => !places.has(placeOf(book, fact)))
}

/** What is left of a draft that is too large to grow, once the newer facts have taken their places. */
function shortened(book: Book, draft: DraftOperation, places: ReadonlyMap<string, unknown>): Write {
  const facts = without(book, draft, places)
  if (facts.length === 0) return { kind: 'drop_draft', draft: draft.id }
  return { kind: 'draft', draft: { ...draft, facts } }
}

/** No less than the change will have, also once it is said again. */
function bytesOf({ fact, person }: DraftFact): number {
  return bytesBeside + textLength(JSON.stringify(fact)) + textLength(JSON.stringify(person))
}

function fits(facts: readonly DraftFact[], limits: Limits): boolean {
  if (facts.length > limits.changes) return false
  const bytes = facts.reduce((n, fact) => n + bytesOf(fact), 0)
  const elements = facts.reduce((n, { fact }) => n + elementsOf(fact), 0)
  return bytes <= limits.bytes && elements <= limits.elements
}
