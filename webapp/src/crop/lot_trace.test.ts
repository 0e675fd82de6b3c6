import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { stoodIn } from './bed_ages'
import { bedFacts, plantFacts, plantingFacts, removedFacts, visitFacts } from './facts'
import { behindLot, claimsOfLot, lotsOfLine, soldFrom, whereWent } from './lot_trace'
import { lotCell } from './lots'
import type { BedID, ColourID, Day, PersonID, PlantID, PlantingID, Season, VisitID } from './nouns'
import { bedWith, plantingWith, plantWith, visitWith } from './testing/nouns'
import { benchSaid, buyerSaid, claimSaid, length, lineWith, lotOf, orderSaid, packedSaid } from './testing/sold'
import { farmSaid } from './testing/said'

const [cut, due] = ['2026-06-01', '2026-06-04'] as [Day, Day]
const lot = lotOf('b', cut)
const planting = (id: string, bed: string, first: number, planted = `${first - 1}-09-18`) =>
  plantingFacts(plantingWith({ id: id as PlantingID, bed: bed as BedID, planted: planted as Day, firstSeason: first as Season }))
const plant = (id: string, of: string, colour = 'ember') => plantFacts(plantWith({ id: id as PlantID, code: id, planting: of as PlantingID, colour: colour as ColourID }))
const cutFrom = (id: string, of: string, person: string, date: Day = cut) => visitFacts(visitWith({
  id: id as VisitID, plant: of as PlantID, date, purpose: 'cut', person: person as PersonID, counts: [{ colour: '', grade: 'first', length, stems: 4 }],
}))
const ground = [bedFacts(bedWith({ id: 'b' as BedID })), planting('old', 'b', 2024), plant('P1', 'old'), plant('P2', 'old', 'damson')]
const sold = [
  ...ground, buyerSaid(), buyerSaid('cp', 'Co-op'), benchSaid('v', lot, 60, { stage: 'opening', person: 'tilda' }),
  cutFrom('c1', 'P1', 'maren'), cutFrom('c2', 'P2', 'maren'), cutFrom('other day', 'P1', 'maren', '2026-05-30' as Day),
  orderSaid('or', due, [lineWith()]), packedSaid('pa', 'li', due, 2, [[lot, 20]], 'bu', 'joaquin'), packedSaid('pb', 'lj', due, 1, [[lot, 10]], 'cp'),
  packedSaid('pc', 'li', due, 1, [[lotOf('b', '2026-05-30'), 10]]), claimSaid('cl', { lot, stems: 3 }),
]

it('a lot tells its bed, hands, stage, plants and plantings', () => {
  const behind = behindLot(farmSaid(...sold), lot)
  expect([behind.cutBy, behind.benchBy, behind.stages, behind.plants.map((one) => one.plant.code), behind.plantings.map(({ age }) => age), behind.ages])
    .toEqual([['maren'], ['tilda'], ['opening'], ['P1', 'P2'], [3], [3]])
})

it('and to whom it went, what they claimed, and a line its lots', () => {
  const farm = farmSaid(...sold)
  expect(whereWent(farm, lotCell(lot)).map(({ packed, stems }) => [packed.buyer, packed.person, stems])).toEqual([['bu', 'joaquin', 20], ['cp', '', 10]])
  expect(claimsOfLot(farm, lotCell(lot)).map(({ stems }) => stems)).toEqual([3])
  expect(lotsOfLine(farm, 'li' as never).map(({ cell, stems }) => [cell.split('|')[1], stems])).toEqual([['2026-06-01', 20], ['2026-05-30', 10]])
})

describe('a plant tells the days of its cut, and who got of those lots', () => {
  it.each<[string, string, [string, string[], number][]]>([
    ['of its own colour class', 'P1', [['2026-06-01', ['bu', 'cp'], 1], ['2026-05-30', ['bu'], 1]]],
    ['and none where its bed gave no lot of its class', 'P2', [['2026-06-01', [], 0]]],
  ])('%s', (_, id, want) => {
    expect(soldFrom(farmSaid(...sold), id as PlantID).map(({ day, buyers, lots }) => [day, buyers, lots.length])).toEqual(want)
  })
})

describe('what stood in a bed on a day', () => {
  const young = [planting('young', 'b', 2026), plant('Q', 'young')]
  it.each<[string, Fact[][], string, number[]]>([
    ['is its planting', ground, cut, [3]],
    ['is every planting that has a plant there', [...ground, ...young], cut, [3, 1]],
    ['is no planting that came later', [...ground, planting('later', 'b', 2027, '2026-09-01'), plant('Q', 'later')], cut, [3]],
    ['is no planting of which all plants were gone', [...ground, ...young, removedFacts('P1' as PlantID, '2026-03-01' as Day), removedFacts('P2' as PlantID, '2026-03-01' as Day)], cut, [1]],
    ['is a planting whose plants have no codes', [planting('bulk', 'b', 2025)], cut, [2]],
    ['is nothing of another bed', [planting('far', 'c', 2025)], cut, []],
    ['is nothing before its first season', ground, '2023-06-01', []],
  ])('%s', (_, said, day, want) => {
    expect(stoodIn(farmSaid(...said), 'b' as BedID, day as Day).map(({ age }) => age)).toEqual(want)
  })

  it('a total that tells the age is believed', () => {
    const farm = farmSaid(...ground, ...young, benchSaid('v', lot, 10, { age: 1 }))
    expect(behindLot(farm, lot).ages).toEqual([1])
  })
})
