import { describe, expect, it } from 'vitest'
import { chooseSpread, mulberry32 } from './choose'

const bed = Array.from({ length: 84 }, (_, i) => i)

describe('choosing at random', () => {
  it('draws one from each stretch of the bed', () => {
    for (const seed of [1, 48_213, 99_999]) {
      const chosen = chooseSpread(bed, 12, seed)
      expect(chosen.map((at) => Math.floor(at / 7))).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11])
    }
  })

  it('draws the same again from the same seed, and others from another', () => {
    expect(chooseSpread(bed, 12, 7)).toEqual(chooseSpread(bed, 12, 7))
    expect(chooseSpread(bed, 12, 7)).not.toEqual(chooseSpread(bed, 12, 8))
  })

  // Worked out in Python from the published algorithm, so that a seed written down draws the same in years.
  it('draws what another program draws from the seed', () => {
    const line = Array.from({ length: 72 }, (_, i) => i)
    expect(chooseSpread(line, 9, 48_213)).toEqual([2, 14, 20, 24, 39, 47, 48, 62, 67])
  })

  it('takes all where there are fewer than wanted, and none of none', () => {
    expect(chooseSpread([1, 2, 3], 10, 5)).toEqual([1, 2, 3])
    expect(chooseSpread([], 10, 5)).toEqual([])
  })

  it('gives every plant the same chance', () => {
    const drawn = new Map<number, number>()
    for (let seed = 0; seed < 7_000; seed++) {
      for (const at of chooseSpread(bed, 12, seed)) drawn.set(at, (drawn.get(at) ?? 0) + 1)
    }
    for (const at of bed) expect(Math.abs((drawn.get(at) ?? 0) - 1_000)).toBeLessThan(150) // 5 sd of Binomial(7000, 1/7)
  })
})

it('draws numbers from nought to below one', () => {
  const random = mulberry32(3)
  for (let i = 0; i < 1_000; i++) {
    const x = random()
    expect(x).toBeGreaterThanOrEqual(0)
    expect(x).toBeLessThan(1)
  }
})
