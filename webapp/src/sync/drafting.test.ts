// Drafts: what coalesces, and that nobody could tell from where it ends.

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Contents } from '../db/records'
import type { Fact } from '../log/change'
import { textLength } from '../log/bytes'
import { canonical } from '../log/canonical'
import { check, maxOperationBytes } from '../log/check'
import { count } from '../log/count'
import { compareStamps } from '../log/order'
import { looksOf } from '../log/look'
import { members, text } from '../log/read'
import { Book } from './book'
import { planRecord } from './drafting'
import { planFraming } from './framing'
import { RecordError } from './notebook'
import { planFormerAgain } from './reincarnation'

const incarnation = '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'
const nothing: Contents = { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }

function newBook(): Book {
  return new Book('farm', nothing, incarnation)
}

function record(book: Book, facts: readonly Fact[], wall: number): void {
  book.apply(planRecord(book, facts, 'p1', wall))
}

function frameAll(book: Book): void {
  book.apply(planFraming(book, true))
}

function set(id: string, field: string, value: string): Fact {
  return { scope: 'field', op: 'set', type: 'plant', id, field, value }
}

function stems(id: string, cell: string, value: number): Fact {
  return { scope: 'field', op: 'count', type: 'visit', id, field: cell, value }
}

function extraParts(n: number): Record<string, number> {
  return Object.fromEntries(Array.from({ length: n }, (_, i) => ['abcdefghijklmnop'[i]!, i]))
}

function framed(book: Book) {
  return [...book.own].flatMap(({ changes }) => changes)
}

describe('drafts', () => {
  test('a later fact takes the place of the earlier one, and its operation a later stamp', () => {
    const book = newBook()
    record(book, [set('k1', 'code', 'A'), stems('v1', '|0|0', 1)], 100)
    record(book, [stems('v2', '|0|0', 7)], 200)
    record(book, [stems('v1', '|0|0', 2)], 300)
    frameAll(book)
    expect(framed(book).map(c => [c.seq, c.stamp.l, c.rest, c.id, c.value])).toEqual([
      [1, 200, 0, 'v2', 7], [2, 300, 1, 'k1', 'A'], [3, 300, 0, 'v1', 2],
    ])
  })

  test('a change that no frame could carry is not taken', () => {
    const long = Array.from({ length: 1000 }, () => 'x'.repeat(100))
    const extra = (n: number) => Object.fromEntries(Array.from({ length: n }, (_, i) => ['abcdefghijkl'[i]!, long]))
    const fact = { ...set('k1', 'code', 'A'), extra: extra(11) }
    expect(() => planRecord(newBook(), [fact], 'p1', 1)).toThrow(RecordError)
    expect(planRecord(newBook(), [{ ...fact, extra: extra(9) }], 'p1', 1)).not.toEqual([])
  })

  test('two operations that one record touches become one', () => {
    const book = newBook()
    record(book, [set('k1', 'code', 'A')], 100)
    record(book, [set('k2', 'code', 'B')], 200)
    record(book, [set('k1', 'code', 'C'), set('k2', 'code', 'D')], 300)
    expect(book.drafts.size).toBe(1)
    frameAll(book)
    expect(framed(book).map(c => [c.rest, c.value])).toEqual([[1, 'C'], [0, 'D']])
  })

  test('a fact said twice in one record stands as it was said last', () => {
    const book = newBook()
    record(book, [set('k1', 'code', 'A'), set('k1', 'code', 'B')], 100)
    frameAll(book)
    expect(framed(book).map(c => c.value)).toEqual(['B'])
  })

  test('an operation grown to the size of a frame grows no more, and the newer fact leaves it', () => {
    const book = newBook()
    record(book, Array.from({ length: 2000 }, (_, i) => set(`k${i}`, 'code', 'A')), 100)
    record(book, [set('k5', 'code', 'B'), set('new', 'code', 'C')], 200)
    expect([...book.drafts.values()].map(d => d.facts.length).sort()).toEqual([1999, 2])
    frameAll(book)
    expect(text(book.entity('plant', 'k5')!, 'code')).toBe('B')
  })

  test('a record of more than a frame is one operation', () => {
    const book = newBook()
    record(book, Array.from({ length: 2001 }, (_, i) => set(`k${i}`, 'code', 'A')), 100)
    frameAll(book)
    expect(framed(book).map(c => c.rest)).toEqual(Array.from({ length: 2001 }, (_, i) => 2000 - i))
  })

  const long = 'ä'.repeat(4000)
  test.each<[string, Fact[]]>([
    ['32,000 changes', Array.from({ length: 32_001 }, (_, i) => set(`k${i}`, 'code', 'A'))],
    ['16 MiB', Array.from({ length: 2100 }, (_, i) => set(`k${i}`, 'code', long))],
  ])('a record of more than %s is refused', (_, facts) => {
    expect(() => planRecord(newBook(), facts, 'p1', 1)).toThrow(RecordError)
    expect(() => planRecord(newBook(), facts.slice(1, -1).slice(0, 1900), 'p1', 1)).not.toThrow()
  })

  test('a draft grows to no more elements of lists than a frame holds', () => {
    const book = newBook()
    const many = Array.from({ length: 1000 }, (_, i) => `m${i}`)
    const marks = (from: number, n: number): Fact[] => Array.from({ length: n }, (_, i) => ({ ...set(`k${from + i}`, 'marks', ''), value: many }))
    record(book, marks(0, 60), 100)
    record(book, [set('k1', 'marks', ''), ...marks(60, 6)], 200) // 65 lists and a text
    expect([...book.drafts.values()].map(d => d.facts.length)).toEqual([66])
    record(book, [set('k2', 'marks', ''), ...marks(66, 2)], 300) // would be 66 lists
    expect([...book.drafts.values()].map(d => d.facts.length)).toEqual([65, 3])
  })

  test.each<[string, string, Fact]>([
    ['by a person whose id is too long', 'p'.repeat(129), set('k1', 'code', 'A')],
    ['that has no room for its former identity', 'p1', { ...set('k1', 'code', 'A'), extra: extraParts(16) }],
  ])('a change %s is not taken', (_, person, fact) => {
    expect(() => planRecord(newBook(), [fact], person, 1)).toThrow(RecordError)
  })

  test('what was just taken can be sent again under a new incarnation', { timeout: 60_000 }, () => {
    const person = '\u0001'.repeat(128) // six bytes each in a text
    const facts = Array.from({ length: 8000 }, (_, i) => set(`k${i}`, 'code', 'x'.repeat(2000)))
    let [taken, refused] = [4000, facts.length]
    while (refused - taken > 16) {
      const middle = (taken + refused) >> 1
      try {
        planRecord(newBook(), facts.slice(0, middle), person, 1)
        taken = middle
      } catch (error) {
        expect(error).toBeInstanceOf(RecordError)
        refused = middle
      }
    }
    const book = newBook()
    book.apply(planRecord(book, facts.slice(0, taken), person, 1))
    frameAll(book)
    book.apply(planFormerAgain(book, incarnation, '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6'))
    const again = [...book.own].filter(({ operation }) => !operation.moved)
    const bytes = again[0]!.operation.texts.reduce((n, text) => n + textLength(text), 0)
    expect([again.length, again[0]!.changes.length, bytes <= maxOperationBytes]).toEqual([1, taken, true])
    expect(bytes).toBeGreaterThan(0.9 * maxOperationBytes)
    expect(again[0]!.changes.every(change => check(change) === undefined)).toBe(true)
  })

  test('a correction is framed at once, with everything before it', () => {
    const book = newBook()
    record(book, [stems('v1', '|0|0', 5)], 100)
    const correction: Fact = { ...stems('v1', '|0|0', -2), op: 'correct', extra: { saw: 5 } }
    record(book, [correction], 200)
    expect(book.drafts.size).toBe(0)
    expect(count(book.entity('visit', 'v1')!, '|0|0')).toMatchObject({ total: 3, tips: [`${incarnation}:2`] })
  })

  test('a withdrawal is said again once something lies above it, and only then', () => {
    const book = newBook()
    const withdrawal: Fact = { ...set('v1', 'withdrawn', ''), type: 'visit', value: 1 }
    record(book, [stems('v1', '|0|0', 5)], 100)
    frameAll(book)
    record(book, [withdrawal], 200)
    expect(planRecord(book, [withdrawal], 'p1', 250)).toEqual([])
    frameAll(book)
    record(book, [stems('v1', '|0|0', 6)], 300)
    expect(looksOf(book.entity('visit', 'v1')!).map(look => look.kind)).toEqual(['withdrawn'])
    record(book, [withdrawal], 400)
    expect(looksOf(book.entity('visit', 'v1')!)).toEqual([])
  })

  test('stamps grow with seq although the wall clock runs backward', () => {
    const book = newBook()
    for (const [i, wall] of [500, 400, 10, 600, 0].entries()) record(book, [set(`k${i % 3}`, 'code', `c${i}`)], wall)
    frameAll(book)
    const stamps = framed(book).map(c => c.stamp)
    expect(stamps.every((s, i) => i === 0 || compareStamps(stamps[i - 1]!, s) < 0)).toBe(true)
  })
})

const fact: fc.Arbitrary<Fact> = fc.oneof(
  fc.tuple(fc.constantFrom('k1', 'k2'), fc.constantFrom('code', 'colour'), fc.constantFrom('A', 'B', '')).map(a => set(...a)),
  fc.tuple(fc.constantFrom('v1', 'v2'), fc.constantFrom('|0|0', 'extra|500|600'), fc.integer({ min: 0, max: 4 })).map(a => stems(...a)),
  fc.tuple(fc.constantFrom<'add' | 'remove'>('add', 'remove'), fc.constantFrom('m1', 'm2')).map(([op, value]): Fact =>
    ({ scope: 'field', op, type: 'plant', id: 'k1', field: 'parents', value })),
)

/** What a person would see, whatever stamps it has. */
function seen(book: Book): unknown {
  return ['k1', 'k2', 'v1', 'v2'].map(id => {
    const entity = book.entity(id.startsWith('k') ? 'plant' : 'visit', id)
    if (!entity) return { fields: ['', ''], totals: [0, 0], parents: [] }
    return {
      fields: ['code', 'colour'].map(field => text(entity, field)),
      totals: ['|0|0', 'extra|500|600'].map(cell => count(entity, cell).total),
      parents: members(entity, 'parents'),
    }
  })
}

test('coalesced drafts, and drafts framed after every record, end in the same state', { timeout: 60_000 }, () => {
  fc.assert(fc.property(fc.array(fc.array(fact, { minLength: 1, maxLength: 4 }), { maxLength: 25 }), records => {
    const [coalesced, single] = [newBook(), newBook()]
    records.forEach((facts, i) => {
      record(coalesced, facts, 1000 + i)
      record(single, facts, 1000 + i)
      frameAll(single)
      expect(seen(coalesced)).toEqual(seen(single))
    })
    frameAll(coalesced)
    expect(seen(coalesced)).toEqual(seen(single))
    expect(framed(coalesced).length).toBeLessThanOrEqual(framed(single).length)
    const texts = framed(coalesced).map(canonical)
    expect([...coalesced.own].flatMap(f => f.operation.texts)).toEqual(texts)
  }), { numRuns: 200 })
})
