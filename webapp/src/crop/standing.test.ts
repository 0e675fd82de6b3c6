import { describe, expect, it } from 'vitest'
import type { BedID, Day, Farm, Plant, PlantID } from './nouns'
import { standingIn } from './standing'
import { farmWith, plantingWith, plantWith } from './testing/nouns'

const [b, b2, day] = ['b' as BedID, 'b2' as BedID, '2026-06-03' as Day]
const codes = (plants: readonly Plant[]) => plants.map(({ code }) => code)
const plant = (code: string, number: number, told: Partial<Plant> = {}) => plantWith({ id: code as PlantID, code, line: 1, number, ...told })

function farmOf(): Farm {
  const plants = [plant('C', 3), plant('A', 1), plant('moved', 1, { bed: b2 }), plant('gone', 2, { removed: '2026-05-01' as Day })]
  return farmWith({ plants, plantings: [plantingWith({ bed: b })] })
}

describe('the plants that stand in a bed', () => {
  it('are those of the bed now, in walk order, without the gone ones', () => {
    const farm = farmOf()
    expect([codes(standingIn(farm, b, day)), codes(standingIn(farm, b2, day)), standingIn(farm, 'none' as BedID, day)]).toEqual([['A', 'C'], ['moved'], []])
  })

  it('are others on another day', () => {
    const farm = farmOf()
    expect(codes(standingIn(farm, b, day))).toEqual(['A', 'C'])
    expect(codes(standingIn(farm, b, '2026-04-01' as Day))).toEqual(['A', 'gone', 'C'])
  })

  it('are read again once the ground has changed, in the same maps', () => {
    const farm = farmOf()
    expect(codes(standingIn(farm, b, day))).toEqual(['A', 'C'])
    ;(farm.plants as Map<PlantID, Plant>).set('B' as PlantID, plant('B', 2))
    expect(codes(standingIn({ ...farm, groundVersion: farm.groundVersion + 1 }, b, day))).toEqual(['A', 'B', 'C'])
  })

  it('are the same list until then, so that a tap sorts nothing', () => {
    const farm = farmOf()
    expect(standingIn({ ...farm }, b, day)).toBe(standingIn(farm, b, day))
  })
})
