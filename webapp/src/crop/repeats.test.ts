import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Change, Fact } from '../log/change'
import { State } from '../log/state'
import { besideFacts, countFact, plantCell, visitFacts, withdrawnFact } from './facts'
import { LiveFarm } from './live'
import type { Day, Farm, FarmID, PlantID, Purpose, Visit, VisitID } from './nouns'
import { untoldLength } from './nouns'
import { noRepeats, repeatKey, repeatOf, repeatsAmong } from './repeats'
import { visitWith } from './testing/nouns'

const day = '2026-06-03' as Day
const plant = 'p' as PlantID
const stems = (n: number) => [{ colour: '', grade: '', length: untoldLength, stems: n }] as const

describe('of the visits to a plant on a day', () => {
  type Told = readonly [id: string, stems: number, beside?: readonly string[], purpose?: Purpose]
  const cases: [string, readonly Told[], readonly string[]][] = [
    ['one cut asks nothing', [['a', 4]], []],
    ['two cuts ask whether one is a repeat', [['b', 4], ['a', 5]], ['a', 'b']],
    ['two cuts of the same number ask too', [['a', 4], ['b', 4]], ['a', 'b']],
    ['one without stems asks nothing', [['a', 4], ['b', 0]], []],
    ['two of which one names the other ask nothing', [['a', 4], ['b', 5, ['a']]], []],
    ['two that were named the other way round ask nothing', [['a', 4, ['b']], ['b', 5]], []],
    ['a third that names nobody asks about both', [['a', 4], ['b', 5, ['a']], ['c', 6]], ['a', 'b', 'c']],
    ['a third that names one still asks about the other', [['a', 4], ['b', 5, ['a']], ['c', 6, ['a']]], ['b', 'c']],
    ['three that all name those before ask nothing', [['a', 4], ['b', 5, ['a']], ['c', 6, ['a', 'b']]], []],
    ['one that names a visit unknown here still asks', [['a', 4], ['b', 5, ['x']]], ['a', 'b']],
    ['standing stems and nothing here are no cuts', [['a', 4], ['b', 5, [], 'standing'], ['c', 0, [], 'nothing']], []],
  ]
  it.each(cases)('%s', (_, told, asking) => {
    const visits = told.map(([id, n, beside = [], purpose = 'cut']) => visitWith({
      id: id as VisitID, plant, date: day, purpose, counts: n > 0 ? stems(n) : [], beside: beside as VisitID[],
    }))
    expect(repeatsAmong(visits)).toEqual(asking)
  })
})

it('a plant’s day has a name that can be taken apart, whatever the plant’s id holds', () => {
  const odd = 'a b/2026-01-01 c' as PlantID
  expect(repeatOf(repeatKey(odd, day))).toEqual({ plant: odd, day })
})

/** A farm to which changes come one by one, a second apart. */
class Told {
  readonly state = new State()
  readonly live = new LiveFarm('f' as FarmID)
  private n = 0

  say(...facts: readonly Fact[]): void {
    for (const fact of facts) {
      const stamp = { l: 1000 * ++this.n, c: 0 }
      this.state.merge({ ...fact, incarnation: 'i', seq: this.n, stamp, rest: 0, person: 'p' } satisfies Change, stamp)
    }
    const touched = new Map(facts.map((fact) => [fact.id, { type: fact.type, id: fact.id }]))
    this.live.update([...touched.values()].map((key) => [key, this.state.entity(key.type, key.id)] as const))
  }

  get farm(): Farm {
    return this.live.farm.peek()
  }
}

/** What asks, by a search through all visits. */
function searched(farm: Farm): Map<string, readonly VisitID[]> {
  const days = new Map<string, Visit[]>()
  for (const visit of farm.visits.values()) {
    if (visit.plant === '') continue
    const key = repeatKey(visit.plant, visit.date)
    days.set(key, [...(days.get(key) ?? []), visit])
  }
  const asking = [...days].map(([key, visits]) => [key, repeatsAmong(visits)] as const)
  return new Map(asking.filter(([, ids]) => ids.length > 0))
}

describe('kept up to date change by change', () => {
  const fresh = (id: string, on = day) => visitFacts({ ...visitWith({ id: id as VisitID, plant, date: on, counts: stems(3) }) })

  it('asks from the second cut on, and no more once it is answered, withdrawn or moved to another day', () => {
    const told = new Told()
    const asks = () => [...told.farm.repeats.values()]
    told.say(...fresh('a'))
    expect(asks()).toEqual([])
    told.say(...fresh('b'))
    expect(asks()).toEqual([['a', 'b']])
    told.say(...besideFacts('b' as VisitID, ['a' as VisitID]))
    expect(asks()).toEqual([])
    told.say(...besideFacts('b' as VisitID, ['a' as VisitID], false))
    expect(asks()).toEqual([['a', 'b']])
    told.say(withdrawnFact('visit', 'a', true))
    expect(asks()).toEqual([])
    told.say(withdrawnFact('visit', 'a', false))
    expect(asks()).toEqual([['a', 'b']])
    told.say({ scope: 'field', op: 'set', type: 'visit', id: 'a', field: 'date', value: '2026-06-02' })
    expect(asks()).toEqual([])
  })

  it('asks no more once all are said to be no repeats, and again once that is taken back', () => {
    const told = new Told()
    const ids = ['c', 'a', 'b'] as VisitID[]
    for (const id of ids) told.say(...fresh(id))
    told.say(...noRepeats(ids))
    expect([...told.farm.repeats]).toEqual([])
    expect(ids.map((id) => told.farm.visits.get(id)?.beside)).toEqual([[], ['c'], ['a', 'c']])
    told.say(...noRepeats(ids, false))
    expect([...told.farm.repeats.values()]).toEqual([['a', 'b', 'c']])
  })

  it('holds what a search through all visits finds', () => {
    const ids = ['a', 'b', 'c', 'd'] as VisitID[]
    const id = fc.constantFrom(...ids)
    const on = fc.constantFrom(day, '2026-06-02' as Day)
    const step = fc.oneof(
      fc.tuple(id, on, fc.constantFrom('p', 'q')).map(([v, date, of]) => visitFacts({ ...visitWith({ id: v, plant: of as PlantID, date, counts: stems(2) }) })),
      fc.tuple(id, fc.nat(2)).map(([v, n]) => [countFact('field', v, plantCell('', untoldLength), n)]),
      fc.tuple(id, fc.boolean()).map(([v, off]) => [withdrawnFact('visit', v, off)]),
      fc.tuple(id, id, fc.boolean()).map(([v, other, said]) => besideFacts(v, [other], said)),
      fc.tuple(id, on).map(([v, date]): Fact[] => [{ scope: 'field', op: 'set', type: 'visit', id: v, field: 'date', value: date }]),
    )
    fc.assert(fc.property(fc.array(step, { maxLength: 30 }), (steps) => {
      const told = new Told()
      for (const facts of steps) {
        told.say(...facts)
        expect(told.farm.repeats).toEqual(searched(told.farm))
      }
      const anew = new LiveFarm('f' as FarmID)
      anew.replace(told.state)
      expect(anew.farm.peek().repeats).toEqual(told.farm.repeats)
      anew.replace(new State())
      expect([...anew.farm.peek().repeats]).toEqual([])
    }), { numRuns: 300 })
  })
})
