import { expect, it } from 'vitest'
import type { Fact } from '../log/change'
import {
  bedFacts, codeFacts, colourFacts, colourSeenFacts, countedFacts, eventFacts, markFacts, photoFacts, placeFacts, plantFacts, plantingFacts, readingFacts, removedFacts,
  standFacts, stockFacts, visitFacts, withdrawnFact,
} from './facts'
import { LiveFarm } from './live'
import type { BedID, ColourID, Day, PhotoHash, PlantID, PlantingID, Season, VisitID } from './nouns'
import { bedWith, eventWith, plantingWith, plantWith, readingWith, stockWith, visitWith } from './testing/nouns'
import { farmID, farmSaid, stateSaid } from './testing/said'

const k = 'k' as PlantID
const ground = [...bedFacts(bedWith()), ...stockFacts(stockWith()), ...plantingFacts(plantingWith()), ...plantFacts(plantWith({ id: k, code: 'K' }))]
const withdrawn = (type: 'bed' | 'stock' | 'planting' | 'plant', id: string) => withdrawnFact(type, id, true)
const visit = visitFacts(visitWith({ id: 'v' as VisitID, plant: k }))

it('what is withdrawn leaves the farm and is kept beside it, until it is restored', () => {
  const gone = farmSaid(ground, [withdrawn('plant', k), withdrawn('planting', 'g'), withdrawn('stock', 's'), withdrawn('bed', 'b')])
  expect([gone.plants.size, gone.plantings.size, gone.stocks.size, gone.beds.size]).toEqual([0, 0, 0, 0])
  expect([gone.withdrawn.plants.get(k)?.code, gone.withdrawn.plantings.has(plantingWith().id), gone.withdrawn.stocks.has(stockWith().id), gone.withdrawn.beds.has(bedWith().id)]).toEqual(['K', true, true, true])
  const back = farmSaid(ground, [withdrawn('plant', k)], [withdrawnFact('plant', k, false)])
  expect([back.plants.has(k), back.withdrawn.plants.size]).toEqual([true, 0])
})

it.each<[string, Fact[], number]>([
  ['leaves the ground’s version where the plant stands', [], 0],
  ['is news of the ground where the plant is withdrawn', [withdrawn('plant', k)], 1],
])('a visit %s', (_, before, more) => {
  const live = new LiveFarm(farmID)
  live.replace(stateSaid(ground, before))
  const { groundVersion } = live.farm.peek()
  const [entity] = stateSaid(visit)
  live.update([[{ type: 'visit', id: 'v' }, entity]])
  expect(live.farm.peek().groundVersion - groundVersion).toBe(more)
})

const season = 2026 as Season
const day = '2026-06-03' as Day

it.each<[string, Fact[], (readonly ['ground' | 'layout' | 'visits' | 'readings', number])[]]>([
  ['a flag', markFacts(k, 'flags', `leaning/${day}/p`, true), [['ground', 1]]],
  ['a note', markFacts(k, 'notes', `${day}/p/tall`, true), [['ground', 1]]],
  ['a photo', photoFacts(k, 'f0' as PhotoHash, true), [['ground', 1]]],
  ['a colour', colourSeenFacts(k, season, { day, what: 'c' as ColourID }), [['ground', 1]]],
  ['a stand', standFacts(k, season, { day, what: 'weak' }), [['ground', 1]]],
  ['a colour’s name', colourFacts({ id: 'c' as ColourID, name: 'Oyster', swatch: '' }), [['ground', 1]]],
  ['an event', eventFacts(eventWith()), [['ground', 1]]],
  ['a plant that goes', removedFacts(k, day), [['ground', 1], ['layout', 1]]],
  ['a plant that is moved', placeFacts(k, [], [{ bed: 'b' as BedID, line: 1, number: 2, since: day, move: 'm' }]), [['ground', 1], ['layout', 1]]],
  ['a plant’s code', codeFacts(k, 'L'), [['ground', 1], ['layout', 1]]],
  ['a plant that is counted', countedFacts(k, season, { from: day, to: day }), [['ground', 1], ['layout', 1]]],
  ['a plant that is new', plantFacts(plantWith({ id: 'l' as PlantID })), [['ground', 1], ['layout', 1]]],
  ['a plant that is withdrawn', [withdrawn('plant', k)], [['ground', 1], ['layout', 1]]],
  ['a planting', plantingFacts(plantingWith({ id: 'h' as PlantingID })), [['ground', 1], ['layout', 1]]],
  ['a bed', bedFacts(bedWith({ lines: 3 })), [['ground', 1], ['layout', 1]]],
  ['a visit', visit, [['visits', 1]]],
  ['a reading', readingFacts(readingWith({ plant: k })), [['readings', 1]]],
])('%s is news of what it changes, and of nothing else', (_, said, news) => {
  const live = new LiveFarm(farmID)
  live.replace(stateSaid(ground))
  const versions = () => { const { groundVersion: ground, layoutVersion: layout, visitsVersion: visits, readingsVersion: readings } = live.farm.peek(); return { ground, layout, visits, readings } }
  const before = versions()
  const { type = '', id = '' } = said[0] ?? {}
  live.update([[{ type, id }, stateSaid(ground, said).entity(type, id)]])
  const after = versions()
  const grew = (['ground', 'layout', 'visits', 'readings'] as const).flatMap((one) => (after[one] > before[one] ? [[one, after[one] - before[one]]] : []))
  expect(grew).toEqual(news)
})

it('a visit whose day is put right is news of both days, and of no other', () => {
  const live = new LiveFarm(farmID)
  const at = (date: string) => visitFacts(visitWith({ id: 'dated' as VisitID, date: date as Day, purpose: 'bench', bed: 'b' as BedID }))
  live.replace(stateSaid(ground, visit, at('2026-05-01')))
  const before = new Map(live.farm.peek().dayVersions)
  live.update([[{ type: 'visit', id: 'dated' }, stateSaid(ground, at('2026-05-01'), at('2026-05-02')).entity('visit', 'dated')]])
  const { dayVersions } = live.farm.peek()
  expect([...dayVersions].filter(([date, version]) => before.get(date) !== version).map(([date]) => date).sort()).toEqual(['2026-05-01', '2026-05-02'])
})
