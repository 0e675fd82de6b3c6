import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { assuranceOf, type Halves, halfOf, plantsFor } from './plan_table'

interface Vectors {
  readonly plants: readonly number[]
  readonly assurance: readonly number[]
  readonly cases: readonly {
    readonly name: string
    readonly half: Halves
    readonly reaches: readonly { n: number; standing: number; assurance: number; half: number }[]
    readonly needs: readonly { half: number; assurance: number; standing: number; n: number }[]
  }[]
}

const vectors = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/plan.json'), 'utf8')) as Vectors

// The table is read between its numbers: a hundredth of a half-width, two of an assurance and a plant
// in a hundred is what that may cost. Past the last number of plants a farm that is known has next to no
// range of half-widths left, so a hair of it is five hundredths of assurance.
describe.each(vectors.cases)('the table of $name', ({ half: halves, reaches, needs }) => {
  it.each(reaches)('$n of $standing plants keep to ±$half with $assurance', ({ n, standing, assurance, half }) => {
    expect(Math.abs(halfOf(vectors, halves, n, standing, assurance) / half - 1)).toBeLessThan(0.01)
    expect(Math.abs(assuranceOf(vectors, halves, n, standing, half) - assurance)).toBeLessThan(n > 1000 ? 0.05 : 0.02)
  })

  it.each(needs)('±$half with $assurance takes $n of $standing', ({ half, assurance, standing, n }) => {
    expect(Math.abs(plantsFor(vectors, halves, half, standing, assurance) - n)).toBeLessThanOrEqual(Math.max(1, n / 100))
  })
})

describe('at the ends of the table', () => {
  const halves = vectors.cases[0]!.half
  it('all plants leave nothing open, one plant everything', () => {
    expect(halfOf(vectors, halves, 40, 40, 0.9)).toBe(0)
    expect(assuranceOf(vectors, halves, 40, 40, 0.1)).toBe(1)
    expect(halfOf(vectors, halves, 1, 40, 0.9)).toBe(Infinity)
    expect(assuranceOf(vectors, halves, 1, 40, 3)).toBe(0)
    expect(halfOf(vectors, halves, 1, 1, 0.9)).toBe(0)
  })

  it('says less than the least and more than the most assurance', () => {
    expect(assuranceOf(vectors, halves, 20, 300, 0.1)).toBe(0)
    expect(assuranceOf(vectors, halves, 20, 300, 100)).toBe(1)
  })

  it('needs no plant of none', () => {
    expect(plantsFor(vectors, halves, 3, 0, 0.9)).toBe(0)
    expect(plantsFor(vectors, halves, 3, 1, 0.9)).toBe(1)
  })
})
