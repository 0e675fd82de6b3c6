import { describe, expect, it } from 'vitest'
import type { BedID, Day, Farm, PlantID, Planting, PlantingID, Season, Visit, VisitID } from '../crop/nouns'
import { northernYear } from '../crop/season'
import { plantWith } from '../crop/testing/nouns'
import { seasonsOfPlant, stemsByBed } from './stems'
import { endedWindow } from './bed'

const plantings = new Map([
  ['old', { id: 'old', bed: 'b', firstSeason: 2024 }], ['new', { id: 'new', bed: 'b', firstSeason: 2026 }],
] as unknown as [PlantingID, Planting][])
const plants = new Map([
  plantWith({ id: 'A' as PlantID, planting: 'old' as PlantingID, counted: new Map([[2025 as Season, { from: '' as Day, to: '' as Day }]]) }),
  plantWith({ id: 'B' as PlantID, planting: 'new' as PlantingID }),
].map((plant) => [plant.id, plant]))

function visit(parts: Partial<Record<keyof Visit, unknown>>, stems: number): Visit {
  return { plant: '', bed: '', planting: '', age: 0, date: '2026-06-03', purpose: 'cut', counts: [{ stems }], ...parts } as unknown as Visit
}

function farmOf(...list: Visit[]): Farm {
  const visits = list.map((v, i) => ({ ...v, id: String(i) as VisitID }))
  const visitsOf = new Map<PlantID, Set<VisitID>>()
  for (const { id, plant } of visits) if (plant !== '') visitsOf.set(plant, (visitsOf.get(plant) ?? new Set()).add(id))
  return { calendar: northernYear, plantings, plants, visits: new Map(visits.map((v) => [v.id, v])), visitsOf } as unknown as Farm
}

describe('stems of a bed in a season, each once', () => {
  const a = visit({ plant: 'A' }, 4)
  const b = visit({ plant: 'B' }, 2)
  const bench = visit({ bed: 'b', purpose: 'bench' }, 50)
  const cases: [string, Visit[], number][] = [
    ['plants alone are summed', [a, b], 6],
    ['a bench total holds the plants of its day', [a, b, bench], 50],
    ['a bench total of another day does not', [a, visit({ bed: 'b', purpose: 'bench', date: '2026-06-05' }, 50)], 54],
    ['two benches of one day are summed', [bench, visit({ bed: 'b', purpose: 'bench' }, 10), a], 60],
    ['a bench total stands before a bed cut', [bench, visit({ bed: 'b', purpose: 'bed_cut' }, 45)], 50],
    ['one narrowed to a planting leaves the others', [a, b, visit({ bed: 'b', purpose: 'bench', planting: 'old' }, 30)], 32],
    ['one narrowed to an age leaves the others', [a, b, visit({ bed: 'b', purpose: 'bench', age: 3 }, 30)], 32],
    ['standing stems are no cut', [a, visit({ plant: 'A', purpose: 'standing' }, 9)], 4],
    ['another season does not count', [visit({ plant: 'A', date: '2025-06-03' }, 9)], 0],
  ]
  it.each(cases)('%s', (_, visits, stems) => {
    expect(stemsByBed(farmOf(...visits), 2026 as Season).get('b' as BedID) ?? 0).toBe(stems)
  })
})

it('tells a plant’s seasons, those counted and bare too, the newest first', () => {
  const farm = farmOf(visit({ plant: 'A' }, 4), visit({ plant: 'A', date: '2026-06-09' }, 3))
  expect(seasonsOfPlant(farm, 'A' as PlantID)).toEqual([
    { season: 2026, age: 3, stems: 7, counted: false }, { season: 2025, age: 2, stems: 0, counted: true },
  ])
})

describe('ending a window', () => {
  it.each([
    ['ends it on the day', '2026-01-01', '2026-10-31', '2026-06-03'],
    ['leaves one that is over', '2026-01-01', '2026-05-31', '2026-05-31'],
    ['takes off one that had not begun', '2026-07-01', '2026-10-31', undefined],
  ])('%s', (_, from, to, end) => {
    expect(endedWindow({ from, to } as never, '2026-06-03' as never)?.to).toBe(end)
  })
})
