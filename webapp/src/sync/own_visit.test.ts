import { describe, expect, test } from 'vitest'
import { packedIDOf } from '../crop/cells'
import { countFact, plantCell, visitFacts, withdrawnFact } from '../crop/facts'
import type { Day, PersonID, PlantID, Purpose, VisitID } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { visitWith } from '../crop/testing/nouns'
import { packedCount, packedFacts } from '../crop/sale_facts'
import type { BuyerID, LineID, PackedID } from '../crop/sale_nouns'
import type { Fact } from '../log/change'
import { Book } from './book'
import { planRecord } from './drafting'
import { isFromHere, ownPacked, ownVisit } from './own_visit'

const [here, elsewhere] = ['0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c', '7c1f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'] as const
const [plant, ana, ben, day] = ['p' as PlantID, 'ana' as PersonID, 'ben' as PersonID, '2026-06-03' as Day]
const cell = plantCell('', untoldLength)

function bookOf(incarnation: string): Book {
  return new Book('farm', { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }, incarnation)
}

let wall = 0
function record(book: Book, ...facts: readonly Fact[]): void {
  book.apply(planRecord(book, facts, ana, ++wall))
}

/** Begins a visit with stems, and tells its id. */
function begun(book: Book, purpose: Purpose = 'cut', person = ana): VisitID {
  const id = ownVisit(book, person, plant, day, purpose)
  record(book, ...visitFacts(visitWith({ id, plant, date: day, purpose, person })), countFact('field', id, cell, 4))
  return id
}

function redated(id: VisitID, date: string): Fact {
  return { scope: 'field', op: 'set', type: 'visit', id, field: 'date', value: date }
}

describe('the visit with which a person goes on', () => {
  const cases: [string, (id: VisitID) => readonly Fact[], boolean, Purpose?][] = [
    ['is the one that was begun', () => [], true],
    ['is a further one once it was withdrawn', id => [withdrawnFact('visit', id, true)], false],
    ['is the one that was brought back', id => [withdrawnFact('visit', id, false)], true],
    ['is a further one once it was given another day', id => [redated(id, '2026-06-02')], false],
    ['is the same "nothing here", also once it was taken back', id => [withdrawnFact('visit', id, true)], true, 'nothing'],
    ['is no "nothing here" of another day', id => [redated(id, '2026-06-02')], false, 'nothing'],
  ]
  test.each(cases)('%s', (_, then, same, purpose = 'cut') => {
    const book = bookOf(here)
    const id = begun(book, purpose)
    record(book, ...then(id))
    const on = ownVisit(book, ana, plant, day, purpose)
    expect(on === id).toBe(same)
    expect(ownVisit(book, ana, plant, day, purpose)).toBe(on)
  })

  test('is a third one after the second was withdrawn too, and goes on from there', () => {
    const book = bookOf(here)
    const ids = [0, 1, 2].map(() => {
      const id = begun(book)
      record(book, withdrawnFact('visit', id, true))
      return id
    })
    const last = begun(book)
    expect(new Set([...ids, last]).size).toBe(4)
    expect(ownVisit(book, ana, plant, day, 'cut')).toBe(last)
  })

  test('is each person’s own', () => {
    const book = bookOf(here)
    expect(ownVisit(book, ben, plant, day, 'cut')).not.toBe(begun(book))
  })
})

test('a visit is from here where it was begun here, by whomever', () => {
  const book = bookOf(here)
  const [own, handed] = [begun(book), begun(book, 'cut', ben)]
  const other = begun(bookOf(elsewhere))
  expect([own, handed, other].map(id => isFromHere(book, id))).toEqual([true, true, false])
})

describe('what a person packs for a line', () => {
  const line = 'l' as LineID
  function packs(book: Book, person = ana): PackedID {
    const id = ownPacked(book, person, line, day)
    record(book, ...packedFacts({ id, line, buyer: 'b' as BuyerID, due: day, date: day, person }), packedCount(id, 'bunches', 1))
    return id
  }
  const cases: [string, (id: PackedID) => readonly Fact[], boolean][] = [
    ['goes on', () => [], true],
    ['is a further record once it was withdrawn', id => [withdrawnFact('packed', id, true)], false],
    ['is a further record once it was given another day', id => [{ scope: 'shed', op: 'set', type: 'packed', id, field: 'date', value: '2026-06-02' }], false],
  ]
  test.each(cases)('%s', (_, then, same) => {
    const book = bookOf(here)
    const id = packs(book)
    record(book, ...then(id))
    expect(packs(book) === id).toBe(same)
  })

  test('is one record for each device, person, line and day', () => {
    const ids = [
      packedIDOf(here, ana, line, day), packedIDOf(elsewhere, ana, line, day), packedIDOf(here, ben, line, day),
      packedIDOf(here, ana, 'm' as LineID, day), packedIDOf(here, ana, line, '2026-06-04' as Day), packedIDOf(here, ana, line, day, 2),
    ]
    expect(new Set(ids).size).toBe(ids.length)
  })

  test('goes on under the id of a former incarnation of this phone', () => {
    const book = bookOf(here)
    const id = packs(book)
    book.apply([{ kind: 'pen', pen: { ...book.pen, incarnation: elsewhere, formers: [here] } }])
    expect(ownPacked(book, ana, line, day)).toBe(id)
  })
})
