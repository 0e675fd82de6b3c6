import { describe, expect, it } from 'vitest'
import type { Season } from '../crop/nouns'
import type { Age, SeasonStems } from './ages_report'
import { newestCompared, standsOut } from './ages_seasons'

/** A season's mean with an interval of so many hundredths either way. */
const season = (year: number, mean: number, hundredths: number): SeasonStems =>
  ({ season: year as Season, alive: 50, mean, lo: mean / (1 + hundredths / 100), hi: mean * (1 + hundredths / 100) })
const aged = (age: number, ...seasons: SeasonStems[]) => ({ age, seasons }) as unknown as Age

describe('the newest season', () => {
  it.each<[string, Age[], { age: number; mean: number; before: number } | undefined]>([
    ['stands out where its interval is far from the former ones', [aged(1, season(2024, 10, 8), season(2025, 10, 8), season(2026, 6, 8))], { age: 1, mean: 6, before: 10 }],
    ['does not where the intervals are wide', [aged(1, season(2024, 10, 60), season(2026, 6, 60))], undefined],
    ['does not where a former one differs but it does not', [aged(1, season(2024, 5, 8), season(2025, 15, 8), season(2026, 10, 8))], undefined],
    ['is told of the age where it differs most', [aged(1, season(2025, 10, 8), season(2026, 8, 8)), aged(2, season(2025, 20, 8), season(2026, 40, 8))], { age: 2, mean: 40, before: 20 }],
    ['is not told of an age that was not seen in it', [aged(1, season(2024, 5, 8), season(2025, 15, 8)), aged(2, season(2025, 20, 8), season(2026, 20, 8))], undefined],
    ['is nothing where each age has one', [aged(1, season(2025, 10, 8)), aged(2, season(2026, 40, 8))], undefined],
  ])('%s', (_, ages, want) => {
    const out = standsOut(ages)
    expect(out && { age: out.age, mean: out.mean, before: Math.round(out.before) }).toEqual(want)
  })

  it('that can be compared is of an age with several', () => {
    expect(newestCompared([aged(1, season(2025, 10, 8), season(2024, 10, 8)), aged(2, season(2026, 40, 8))])).toBe(2025)
    expect(newestCompared([aged(1)])).toBeUndefined()
  })
})
