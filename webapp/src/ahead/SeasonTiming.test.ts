import { describe, expect, it } from 'vitest'
import { shiftText, warmthText } from './SeasonTiming'

describe('how late the season is', () => {
  it.each([
    [{ q05: 2.4, q50: 6.1, q95: 9.8 }, 'about **6 days later** than in the farm’s usual season (2 to 10)'],
    [{ q05: -9, q50: -1.2, q95: -0.6 }, 'about **1 day earlier** than in the farm’s usual season (1 to 9)'],
    [{ q05: -3, q50: 1, q95: 5 }, 'about **as usual** on this farm: up to 3 days earlier or 5 later'],
    [{ q05: 0.2, q50: 2, q95: 5 }, 'up to 0 days earlier or 5 later'],
  ])('%j', (days, said) => {
    expect(shiftText(days)).toContain(said)
  })

  it.each([
    [4.4, 3, 'as usually **4 days later** (mean of 3 seasons)'], [-1, 2, 'as usually **1 day earlier** (mean of 2 seasons)'],
    [0.3, 3, 'as **usual** (mean of 3 seasons)'], [0, 1, 'as in the season before'],
  ])('warmth %d days ahead of %d seasons', (ahead, seasons, said) => {
    expect(warmthText({ ahead, seasons })).toContain(said)
  })
})
