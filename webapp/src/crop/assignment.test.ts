import { describe, expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { Assignment } from './assignment'

type Case = [name: string, supply: number[], demand: number[], allowed: number[][], lacks: number[], left: number[]]

describe('stems are given so that no line is left short which could be served', () => {
  it.each<Case>([
    ['nothing to give', [], [5], [[]], [5], []],
    ['enough for all', [9], [5, 4], [[0], [0]], [0, 0], [0]],
    ['a stem that only one may have is kept for it', [5, 5], [5, 5], [[0, 1], [0]], [0, 0], [0, 0]],
    ['through three who change places', [1, 1, 1], [1, 1, 1], [[0, 1], [1, 2], [0]], [0, 0, 0], [0, 0, 0]],
    ['the first is served where not all can be', [5], [4, 4], [[0], [0]], [0, 3], [0]],
    ['the first named is used first', [5, 5], [6], [[1, 0]], [0], [4, 0]],
  ])('%s', (_, supply, demand, allowed, lacks, left) => {
    const one = new Assignment(supply, demand)
    allowed.forEach((supplies, i) => one.allow(i, supplies))
    demand.forEach((_, i) => one.serve(i))
    expect([one.lacks, one.left]).toEqual([lacks, left])
  })
})

describe('against every way of giving', () => {
  const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
  it(`as many stems are given as any way gives, and what was given stays so (seed ${seed})`, () => {
    const random = new Random(seed)
    for (let run = 0; run < 400; run++) {
      const supply = Array.from({ length: random.between(0, 3) }, () => random.between(0, 3))
      const demand = Array.from({ length: random.between(1, 3) }, () => random.between(0, 3))
      const allowed = demand.map(() => [...supply.keys()].filter(() => random.chance(0.6)))
      const one = new Assignment(supply, demand)
      // In two steps, as asked colours come before substitutes.
      allowed.forEach((supplies, i) => one.allow(i, supplies.filter((j) => j % 2 === 0)))
      demand.forEach((_, i) => one.serve(i))
      const before = [...one.lacks]
      allowed.forEach((supplies, i) => one.allow(i, supplies))
      demand.forEach((_, i) => one.serve(i))
      const given = (lacks: readonly number[]) => demand.reduce((sum, n, i) => sum + n - lacks[i]!, 0)
      expect(given(one.lacks)).toBe(most(supply, demand, allowed))
      expect(one.lacks.every((lack, i) => lack >= 0 && lack <= before[i]!)).toBe(true)
      expect(one.left.every((left, j) => left >= 0 && left === supply[j]! - demand.reduce((sum, _, i) => sum + one.of(i, j), 0))).toBe(true)
      expect(demand.every((_, i) => supply.every((_, j) => one.of(i, j) === 0 || allowed[i]!.includes(j)))).toBe(true)
    }
  })
})

/** By trying every demand for every stem. */
function most(supply: readonly number[], demand: readonly number[], allowed: readonly (readonly number[])[]): number {
  const stem = supply.findIndex((n) => n > 0)
  if (stem < 0) return 0
  const rest = supply.map((n, j) => (j === stem ? n - 1 : n))
  const ways = demand.flatMap((n, i) => (n > 0 && allowed[i]!.includes(stem) ? [1 + most(rest, demand.map((m, k) => (k === i ? m - 1 : m)), allowed)] : []))
  return Math.max(most(rest, demand, allowed), ...ways)
}
