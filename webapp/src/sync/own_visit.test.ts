import { describe, expect, test } from 'vitest'
import { countFact, plantCell, visitFacts, withdrawnFact } from '../crop/facts'
import type { Day, PersonID, PlantID, Purpose, VisitID } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { visitWith } from '../crop/testing/nouns'
import type { Fact } from '../log/change'
import { Book } from './book'
import { planRecord } from './drafting'
import { isFromHere, ownVisit } from './own_visit'

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
