import { describe, expect, it } from 'vitest'
import { maxOperationChanges } from '../log/check'
import type { BedID, Calendar, Day, Farm, Place, Plant, PlantID, PlantingID, StockID } from './nouns'
import { placeKey } from './places'
import {
  firstSeasonOf, gapsIn, lastPlantingTimes, type Lines, mostPlants, passedOver, placesFor, plantedTo, plantOut, takenPlaces, undoPlanting, wasUsed,
} from './planting_out'
import { northernYear } from './season'
import { bedWith, eventWith, farmWith, plantingWith, plantWith, stockWith, visitWith } from './testing/nouns'

const bed = 'b' as BedID
const southern: Calendar = { start: '07-01', southern: true }

/** "1/2" is line 1, number 2. */
function written(places: readonly Place[]): string[] {
  return places.map(({ line, number }) => `${line}/${number}`)
}

function taken(...places: readonly string[]): Set<string> {
  return new Set(places.map((place) => {
    const [line, number] = place.split('/').map(Number)
    return placeKey({ bed, line: line!, number: number! })
  }))
}

describe('the first season of what is planted', () => {
  it.each([
    ['in the north before midsummer', northernYear, '2026-04-10', 2026],
    ['in the north on the last day of June', northernYear, '2026-06-30', 2026],
    ['in the north on the first of July', northernYear, '2026-07-01', 2027],
    ['in the north in autumn', northernYear, '2026-09-20', 2027],
    ['in the north in December', northernYear, '2026-12-31', 2027],
    ['in the north in January', northernYear, '2027-01-01', 2027],
    ['in the south in autumn, before that year’s spring', southern, '2026-04-10', 2026],
    ['in the south in spring', southern, '2026-09-20', 2026],
    ['in the south in December, before midsummer', southern, '2026-12-20', 2026],
    ['in the south in January, after midsummer', southern, '2027-01-10', 2027],
    ['on no day', northernYear, '2026-02-30', 0],
  ] as const)('%s', (_, calendar, day, season) => {
    expect(firstSeasonOf(calendar, day as Day)).toBe(season)
  })
})

describe('the times of planting that are named without a day', () => {
  it.each([
    ['in the north in November', northernYear, '2026-11-30', [['autumn', '2026-09-15'], ['spring', '2026-04-15']]],
    ['in the north in May', northernYear, '2026-05-02', [['spring', '2026-04-15'], ['autumn', '2025-09-15']]],
    ['in the north in January', northernYear, '2027-01-05', [['autumn', '2026-09-15'], ['spring', '2026-04-15']]],
    ['in the north on the day itself, which is today', northernYear, '2026-04-15', [['autumn', '2025-09-15'], ['spring', '2025-04-15']]],
    ['in the south in November', southern, '2026-11-30', [['spring', '2026-09-15'], ['autumn', '2026-04-15']]],
    ['in the south in June', southern, '2026-06-01', [['autumn', '2026-04-15'], ['spring', '2025-09-15']]],
  ] as const)('%s', (_, calendar, today, times) => {
    expect(lastPlantingTimes(calendar, today as Day).map(({ name, day }) => [name, day])).toEqual(times)
  })

  it.each(Array.from({ length: 12 }, (_, month) => `2026-${String(month + 1).padStart(2, '0')}-20` as Day))('hold one whose first season has come, on %s', (today) => {
    const seasons = lastPlantingTimes(northernYear, today).map(({ day }) => firstSeasonOf(northernYear, day))
    expect(Math.min(...seasons)).toBeLessThanOrEqual(2026)
  })
})

describe('the places that a tray fills', () => {
  const cases: [string, Set<string>, Lines, number, string[]][] = [
    ['are shared evenly', taken(), { from: 1, to: 2, first: 1 }, 4, ['1/1', '1/2', '2/1', '2/2']],
    ['are one more in the first lines where it does not come out even', taken(), { from: 1, to: 3, first: 1 }, 5, ['1/1', '1/2', '2/1', '2/2', '3/1']],
    ['leave a line empty where plants are fewer than lines', taken(), { from: 2, to: 4, first: 1 }, 2, ['2/1', '3/1']],
    ['begin at the number told', taken(), { from: 1, to: 1, first: 7 }, 2, ['1/7', '1/8']],
    ['pass over what stands there, without taking from the line’s share', taken('1/1', '1/3'), { from: 1, to: 2, first: 1 }, 4, ['1/2', '1/4', '2/1', '2/2']],
    ['are none where no plant is', taken(), { from: 1, to: 2, first: 1 }, 0, []],
  ]
  it.each(cases)('%s', (_, standing, lines, plants, places) => {
    expect(written(placesFor(standing, bed, lines, plants))).toEqual(places)
  })

  it.each([
    ['none', taken(), ['1/1', '1/2'], 1, 0],
    ['those between the first number and the last place filled', taken('1/1', '1/3', '1/9', '2/1'), ['1/2', '1/4'], 1, 2],
    ['none before the first number', taken('1/1'), ['1/2', '1/3'], 2, 0],
  ] as const)('pass over %s', (_, standing, filled, first, passed) => {
    const places = [...filled].map((place) => ({ bed, line: Number(place.split('/')[0]), number: Number(place.split('/')[1]) }))
    expect(passedOver(standing, places, first)).toBe(passed)
  })
})

function farmOfPlants(): Farm {
  return farmWith({
    beds: [bedWith()], stocks: [stockWith()], plantings: [plantingWith(), plantingWith({ id: 'g2' as PlantingID, bed: 'other' as BedID })],
    plants: [
      plantWith({ id: 'a' as PlantID, line: 1, number: 1 }),
      plantWith({ id: 'c' as PlantID, line: 1, number: 4 }),
      plantWith({ id: 'gone' as PlantID, line: 2, number: 3, removed: '2026-03-01' as Day }),
      plantWith({ id: 'moved away' as PlantID, bed: 'other' as BedID, line: 1, number: 1, stood: [{ bed, line: 1, number: 6, from: '', until: '2026-03-01' as Day }] }),
      plantWith({ id: 'elsewhere' as PlantID, planting: 'g2' as PlantingID, line: 3, number: 9 }),
      plantWith({ id: 'without a place' as PlantID }),
    ],
  })
}

describe('gaps', () => {
  it('are free places as far as a line was ever planted, those of plants gone or moved too', () => {
    const farm = farmOfPlants()
    const gaps = gapsIn(plantedTo(farm, bed), takenPlaces(farm, bed), bed, { from: 1, to: 3, first: 1 })
    expect(written(gaps)).toEqual(['1/2', '1/3', '1/5', '1/6', '2/1', '2/2', '2/3'])
  })

  it('are those of the lines and from the number told alone', () => {
    const farm = farmOfPlants()
    expect(written(gapsIn(plantedTo(farm, bed), takenPlaces(farm, bed), bed, { from: 1, to: 1, first: 3 }))).toEqual(['1/3', '1/5', '1/6'])
  })
})

const tray = (plants: number) => ({
  bed: bedWith({ id: 'new bed' as BedID }), stock: stockWith({ id: 'new stock' as StockID }),
  planting: plantingWith({ id: 'new' as PlantingID, bed: 'new bed' as BedID, stock: 'new stock' as StockID }),
  plants: Array.from({ length: plants }, (_, i) => ({ id: `n${i}` as PlantID, code: `N${i}`, place: { bed: 'new bed' as BedID, line: 1, number: i + 1 } })),
})

describe('planting a tray', () => {
  it('says bed, stock, planting and plants, the first two only where the farm has them not', () => {
    const types = (farm: Farm) => [...new Set(plantOut(farm, tray(2)).map(({ type }) => type))]
    expect(types(farmWith({}))).toEqual(['bed', 'stock', 'planting', 'plant'])
    const { bed: there, stock } = tray(1)
    expect(types(farmWith({ beds: [there], stocks: [stock] }))).toEqual(['planting', 'plant'])
  })

  it('says no more than an operation holds, with as many plants as are let, and refuses more', () => {
    const facts = plantOut(farmWith({}), tray(mostPlants))
    expect(facts.length).toBeLessThanOrEqual(maxOperationChanges)
    expect(() => plantOut(farmWith({}), tray(mostPlants + 1))).toThrow('plant them in parts')
  })
})

describe('taking a planting back', () => {
  const { bed: newBed, stock, planting } = tray(0)
  const plants = [plantWith({ id: 'n1' as PlantID, planting: planting.id }), plantWith({ id: 'n2' as PlantID, planting: planting.id })]
  const other = plantingWith({ id: 'later' as PlantingID, bed: newBed.id, stock: 's' as StockID })
  const told = { planting: planting.id, newBed: newBed.id, newStock: stock.id }
  const named = (farm: Farm, of = told) => undoPlanting(farm, of).map(({ type, id, value }) => [type, id, value].join(' '))

  it('withdraws its plants, itself, and what was made for it', () => {
    const farm = farmWith({ beds: [newBed], stocks: [stock], plantings: [planting], plants })
    expect(named(farm)).toEqual(['plant n1 1', 'plant n2 1', 'planting new 1', 'stock new stock 1', 'bed new bed 1'])
  })

  it('leaves the bed where something else was planted there since', () => {
    const farm = farmWith({ beds: [newBed], stocks: [stock], plantings: [planting, other], plants })
    expect(named(farm)).toEqual(['plant n1 1', 'plant n2 1', 'planting new 1', 'stock new stock 1'])
  })

  const used: [string, Partial<Parameters<typeof farmWith>[0]>][] = [
    ['something was done to it', { events: [eventWith({ bed: newBed.id })] }],
    ['its total was counted', { visits: [visitWith({ bed: newBed.id, purpose: 'bench' })] }],
    ['another plant stood in it', { plants: [...plants, plantWith({ id: 'm' as PlantID, planting: 'p' as PlantingID, bed, stood: [{ bed: newBed.id, line: 1, number: 9, from: '', until: '2026-05-04' as Day }] })] }],
  ]
  it.each(used)('leaves the bed where %s since', (_, nouns) => {
    const farm = farmWith({ beds: [newBed], stocks: [stock], plantings: [planting], plants, ...nouns })
    expect(named(farm)).toEqual(['plant n1 1', 'plant n2 1', 'planting new 1', 'stock new stock 1'])
  })

  it('leaves the stock where another came of it since', () => {
    const farm = farmWith({ beds: [newBed], stocks: [stock, stockWith({ id: 'child' as StockID, from: stock.id })], plantings: [planting], plants })
    expect(named(farm)).toEqual(['plant n1 1', 'plant n2 1', 'planting new 1', 'bed new bed 1'])
  })

  it('leaves what was there before', () => {
    const farm = farmWith({ beds: [newBed], stocks: [stock], plantings: [planting], plants })
    expect(named(farm, { planting: planting.id, newBed: '' as BedID, newStock: '' as StockID })).toEqual(['plant n1 1', 'plant n2 1', 'planting new 1'])
  })

  const later = (told: Partial<Plant>) => [...plants, plantWith({ id: 'c' as PlantID, planting: 'another' as PlantingID, ...told })]
  it.each<[string, boolean, Partial<Parameters<typeof farmWith>[0]>]>([
    ['nothing as long as nothing came of it', false, {}],
    ['something once a plant of it was visited', true, { visits: [visitWith({ plant: 'n2' as PlantID })] }],
    ['something once a plant of it was divided', true, { plants: later({ parents: ['n1' as PlantID] }) }],
    ['something once a seedling came up at a plant of it', true, { plants: later({ beside: 'n1' as PlantID }) }],
  ])('is known to lose %s', (_, loses, nouns) => {
    expect(wasUsed(farmWith({ plantings: [planting], plants, ...nouns }), planting.id)).toBe(loses)
  })
})
