import { describe, expect, it } from 'vitest'
import { colourFromReadings, distance } from './measured_colour'
import type { Day, PlantID, Reading, ReadingID, Season } from './nouns'
import { farmWith, readingWith } from './testing/nouns'

describe('a distance', () => {
  it('carries the uncertainty along the line between the colours alone', () => {
    // Among greys at L 50 a step in lightness is CIEDE2000's own, and the line runs along L*.
    const colour = { lab: { L: 52, a: 0, b: 0 }, cov: { LL: 0.25, La: 0, Lb: 0, aa: 9, ab: 0, bb: 9 } }
    const { away, se } = distance({ L: 48, a: 0, b: 0 }, colour)
    expect(away).toBeCloseTo(4, 2)
    expect(se).toBeCloseTo(0.5, 1)
  })

  it('counts how components go together', () => {
    const cov = { LL: 1, La: 0, Lb: 0, aa: 1, ab: 0.9, bb: 1 }
    const along = distance({ L: 60, a: 40, b: 40 }, { lab: { L: 60, a: 43, b: 43 }, cov }).se
    const against = distance({ L: 60, a: 40, b: 40 }, { lab: { L: 60, a: 43, b: 43 }, cov: { ...cov, ab: -0.9 } }).se
    expect(along).toBeGreaterThan(2 * against)
  })
})

it('a distance of nothing is as uncertain as a small one in any direction', () => {
  // Among greys at L 50 a step in lightness is CIEDE2000's own; those of a* and b* are about 1.5 and 1 of it.
  const cov = { LL: 0.25, La: 0, Lb: 0, aa: 0.25, ab: 0, bb: 0.25 }
  const { away, se } = distance({ L: 50, a: 0, b: 0 }, { lab: { L: 50, a: 0, b: 0 }, cov })
  expect(away).toBe(0)
  expect(se).toBeGreaterThan(0.5)
  expect(se).toBeLessThan(0.7)
})

describe('a plant’s colour by its readings alone', () => {
  const reading = (told: Partial<Reading>) => readingWith({ id: `${Math.abs(told.lab?.L ?? 0)}` as ReadingID, ...told })
  const of = (...readings: Reading[]) => colourFromReadings(farmWith({ readings }), 'p' as PlantID, 2026 as Season)

  it('weighs each by its uncertainty', () => {
    const found = of(reading({ lab: { L: 50, a: 10, b: 0 }, se: { L: 1, a: 1, b: 1 } }), reading({ lab: { L: 60, a: 20, b: 0 }, se: { L: 2, a: 2, b: 2 } }))
    expect(found?.lab).toEqual({ L: 52, a: 12, b: 0 })
    expect(found?.cov.LL).toBeCloseTo(0.8 + 4, 9) // both photos' together, and what they share
  })

  it.each<[string, Partial<Reading>]>([
    ['of a fading head', { stage: 'fading' }],
    ['of a head nobody told the stage of', { stage: '' }],
    ['in sun', { light: 'sun' }],
    ['of another season', { date: '2025-05-20' as Day }],
    ['of another plant', { plant: 'q' as PlantID }],
    ['without an uncertainty', { se: { L: 0, a: 1, b: 1 } }],
  ])('leaves one out %s', (_, told) => {
    expect(of(reading(told))).toBeUndefined()
  })
})
