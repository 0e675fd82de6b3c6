// What an id was derived from is found out from what its visit says, and never guessed.

import { describe, expect, test } from 'vitest'
import { visitFacts } from '../crop/facts'
import type { BedID, Day, PersonID, PlantID, PlantingID, Purpose, Visit, VisitID } from '../crop/nouns'
import type { Contents } from '../db/records'
import type { Fact } from '../log/change'
import type { Origin } from '../log/origin'
import { originID } from '../log/origin'
import { Book } from './book'
import { planRecord } from './drafting'
import { planFraming } from './framing'
import { OriginFinder } from './origins'

const present = '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'
const former = '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6'
const other = '6f1c1d2e-3a4b-4c5d-8e6f-708192a3b4c5'

interface Told {
  subject: string
  namespace?: string
  by?: string
  visit?: Partial<Visit>
}

/** A visit of p1 at the subject, with the id that it has. */
function visitOf({ subject, namespace = present, by = 'p1', visit = {} }: Told): [Visit, Origin] {
  const purpose: Purpose = visit.purpose ?? 'cut'
  const origin = { namespace, person: by, subject, recorded: '2026-06-03', purpose }
  const made: Visit = {
    id: originID(origin) as VisitID, plant: '', bed: 'b1' as BedID, date: '2026-06-03' as Day, purpose, person: 'p1' as PersonID,
    flush: '', toOrder: false, planting: '', age: 0, stage: '', counts: [], beside: [], ...visit,
  }
  return [made, origin]
}

/** What is found of the visit's id when it is pushed, after anything more was said of it. */
function found(visit: Visit, more: readonly Fact[] = []): Origin | undefined {
  const nothing: Contents = { pen: undefined, reading: undefined, drafts: [], own: [], chunks: [], kept: new Map() }
  const book = new Book('farm', nothing, present)
  book.apply([{ kind: 'pen', pen: { ...book.pen, formers: [former] } }])
  for (const facts of [visitFacts(visit), more]) if (facts.length > 0) book.apply(planRecord(book, facts, 'p1', 1000))
  book.apply(planFraming(book, true))
  const changes = [...book.own].flatMap(framed => framed.changes)
  return new OriginFinder(book).of(changes).get(visit.id)
}

const plant = 'k1' as PlantID
const planting = 'r1' as PlantingID

describe('is found', () => {
  test.each<[string, Told]>([
    ['at a plant', { subject: 'k1', visit: { plant } }],
    ['at a plant of a planting', { subject: 'k1', visit: { plant, planting } }],
    ['of a bed', { subject: 'b1', visit: { purpose: 'bed_cut' } }],
    ['of a planting', { subject: 'r1', visit: { purpose: 'bed_cut', planting } }],
    ['of a bed narrowed to an age', { subject: 'b1#2', visit: { purpose: 'bench', age: 2 } }],
    ['begun under an earlier incarnation', { subject: 'k1', namespace: former, visit: { plant } }],
    ['begun before anybody was chosen', { subject: 'k1', by: '', visit: { plant, person: '' } }],
  ])('for a visit %s', (_, told) => {
    const [visit, origin] = visitOf(told)
    expect(found(visit)).toEqual(origin)
  })
})

describe('is not told', () => {
  test.each<[string, Told]>([
    ['of another phone', { subject: 'k1', namespace: other, visit: { plant } }],
    ['whose id is of another plant', { subject: 'k2', visit: { plant } }],
    ['whose id was not derived', { subject: 'k1', visit: { plant, id: 'v1' as VisitID } }],
  ])('for a visit %s', (_, told) => expect(found(visitOf(told)[0])).toBeUndefined())

  test('for a visit whose day was corrected since', () => {
    const [visit] = visitOf({ subject: 'k1', visit: { plant } })
    const corrected: Fact = { scope: 'field', op: 'set', type: 'visit', id: visit.id, field: 'date', value: '2026-06-04' }
    expect(found(visit, [corrected])).toBeUndefined()
  })
})
