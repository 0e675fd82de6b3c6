import { describe, expect, it } from 'vitest'
import type { Season } from '../crop/nouns'
import { type Per, shareIn, shareOf } from './ages_per'
import type { Age, Denominators, Dot, SeasonStems, Survival } from './ages_report'

const season = (year: number, alive: number): SeasonStems => ({ season: year as Season, alive, mean: 20, lo: 15, hi: 25 })
const dot = (year: number, stems: number, open = false) => ({ season: year as Season, stems, open }) as Dot

function aged(part: Partial<Age>): Age {
  return {
    age: 2, plant_seasons: 0, zero: 0, stems: { mean: 20, lo: 15, hi: 25, size: 2, new_lo: 1, new_hi: 60 }, stems_total: 0,
    alive: 0, set_out: 0, cut_from: 0, grades: [], plants: [], ...part,
  }
}

const rows = (...list: [age: number, year: number, setOut: number, atStart: number, running: boolean][]): Survival => ({
  ages: [], notes: [],
  denominators: list.map(([age, year, set_out, at_start, running]): Denominators => ({ age, season: year as Season, set_out, at_start, running })),
})

const counted = aged({ plant_seasons: 20, cut_from: 16, zero: 4, alive: 90, set_out: 100, seasons: [season(2025, 50), season(2026, 40)] })

describe('the mean over living plants', () => {
  it.each<[string, Age, Survival | undefined, Per, number | undefined, number]>([
    ['is said per living plant as it is', counted, undefined, 'alive', 1, 90],
    ['is more per plant cut from, by the counted plants', counted, undefined, 'cut_from', 20 / 16, 16],
    ['is less per plant set out', counted, undefined, 'set_out', 0.9, 100],
    ['is said of the model’s plantings where no other stood', counted, rows([2, 2025, 55, 52, false], [2, 2026, 45, 42, true]), 'set_out', 0.9, 100],
    ['is less where a planting died wholly, by the finished seasons', counted, rows([2, 2025, 80, 52, false], [2, 2026, 45, 42, true]), 'set_out', 50 / 80, 80],
    ['goes by the model’s plantings where no season is finished', counted, rows([2, 2025, 80, 52, true], [2, 2026, 45, 42, true]), 'set_out', 0.9, 100],
    ['of an age that no season tells of goes by who stands', aged({}), rows([2, 2026, 40, 30, true], [1, 2026, 9, 9, true]), 'set_out', 0.75, 40],
    ['of an age of which nothing is known is not told', aged({}), undefined, 'set_out', undefined, 0],
    ['is not told per plant cut from where nobody counted', aged({}), undefined, 'cut_from', undefined, 0],
  ])('%s', (_, age, survival, per, factor, plants) => {
    expect(shareOf(age, survival, per)).toEqual({ factor, plants })
  })

  const inOne = aged({ seasons: [season(2026, 40)], plants: [dot(2026, 3), dot(2026, 0), dot(2026, 5, true), dot(2025, 0)] })
  it.each<[string, Per, number | undefined, number]>([
    ['of a season per living plant', 'alive', 1, 40],
    ['of a season per plant set out', 'set_out', 0.8, 50],
    ['of a season per plant cut from', 'cut_from', 2, 1],
  ])('%s', (_, per, factor, plants) => {
    expect(shareIn(inOne, rows([2, 2026, 50, 41, true], [2, 2025, 10, 9, false]), season(2026, 40), per)).toEqual({ factor, plants })
  })
})
