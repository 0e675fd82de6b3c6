import { describe, expect, it, test } from 'vitest'
import type { Ground } from './bed_picture_ground'
import type { Stems } from './bed_picture_past'
import { drawnAlike, radiusOf, radiusOfStems, sampleStems } from './bed_picture_size'

const scale = (most: number) => ({ most, ground: { pitch: 400 } as Ground })

describe('a head’s size', () => {
  it('has an area in proportion to its stems', () => {
    expect(radiusOfStems(scale(60), 40) ** 2 / radiusOfStems(scale(60), 10) ** 2).toBeCloseTo(4)
  })

  it('is never too small to be seen, and the key says up to where', () => {
    const alike = drawnAlike(scale(60))
    expect(radiusOfStems(scale(60), 0)).toBe(radiusOfStems(scale(60), alike))
    expect(radiusOfStems(scale(60), alike + 1)).toBeGreaterThan(radiusOfStems(scale(60), alike))
  })

  it('tells nothing of an uncounted plant that nobody recorded, and does of a counted one with none', () => {
    const of = (told: Stems['told'], n: number) => radiusOf(scale(60), { stems: { n, told }, seedling: false })
    expect(of('nobody', 0)).not.toBe(of('counted', 0))
    expect(of('recorded', 9)).toBe(of('counted', 9))
  })

  it('does not make a young bed’s two stems the largest heads', () => {
    expect(radiusOfStems(scale(2), 2)).toBeLessThan(0.3 * 400)
  })
})

test.each<[number, number[]]>([[60, [6, 20, 60]], [2, [1, 4, 10]], [137, [15, 50, 120]], [26, [3, 10, 25]]])(
  'the key of at most %d stems shows round numbers %j', (most, samples) => {
    expect(sampleStems(scale(most))).toEqual(samples)
  },
)
