import { describe, expect, it } from 'vitest'
import type { Day, Farm, PlantID, Season } from '../crop/nouns'
import { northernYear } from '../crop/season'
import { plantWith } from '../crop/testing/nouns'
import { windowMarked } from './bed'

const [season, day] = [2026 as Season, '2026-06-03' as Day]
const plant = plantWith({ id: 'a' as PlantID })

function farmWith(...cuts: readonly { date: string; purpose: string; bed?: string; plant?: string; stems?: number }[]): Farm {
  const visits = cuts.map(({ date, purpose, bed = '', plant: of = '', stems = 3 }, i) =>
    [i, { date, purpose, bed, plant: of, planting: '', age: 0, counts: [{ stems }] }])
  return {
    calendar: northernYear, visits: new Map(visits as never), plants: new Map([['a', plant]]),
    plantings: new Map([['g', { id: 'g', bed: 'b' }]]),
  } as unknown as Farm
}

describe('the window of a plant marked as counted', () => {
  const [whole, rest] = ['2026-01-01', '2026-06-03']
  const cases: [string, Farm, string][] = [
    ['is the whole season where nothing was cut', farmWith(), whole],
    ['is the whole season where only another bed was cut', farmWith({ date: '2026-05-01', purpose: 'bench', bed: 'other' }), whole],
    ['is the whole season where the bed was cut last year', farmWith({ date: '2025-05-01', purpose: 'bench', bed: 'b' }), whole],
    ['is the whole season where all stems were taken back', farmWith({ date: '2026-05-01', purpose: 'cut', plant: 'a', stems: 0 }), whole],
    ['begins today where the bed has a bench total', farmWith({ date: '2026-05-01', purpose: 'bench', bed: 'b' }), rest],
    ['begins today where a plant of the bed was cut', farmWith({ date: '2026-05-01', purpose: 'cut', plant: 'a' }), rest],
  ]
  it.each(cases)('%s', (_, farm, from) => {
    expect(windowMarked(farm, plant, season, day)).toEqual({ from, to: '2026-12-31' })
  })
})
