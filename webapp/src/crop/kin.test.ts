import { expect, it } from 'vitest'
import { kinNamed, kinOf } from './kin'
import type { PlantID } from './nouns'
import { farmWith, plantWith } from './testing/nouns'

const [a, b, c, d] = ['a', 'b', 'c', 'd'] as [PlantID, PlantID, PlantID, PlantID]
const plants = [plantWith({ id: a }), plantWith({ id: b, parents: [a] }), plantWith({ id: c, parents: [a, b] }), plantWith({ id: d, beside: a })]

it('finds the divisions of a plant and the seedlings beside it', () => {
  const farm = farmWith({ plants })
  expect(kinOf(farm, a)).toEqual({ children: [b, c], seedlings: [d] })
  expect(kinOf(farm, b)).toEqual({ children: [c], seedlings: [] })
  expect(kinOf(farm, d)).toEqual({ children: [], seedlings: [] })
})

it('looks through the plants again only when what stands has changed', () => {
  const known = new Map(plants.map((plant) => [plant.id, plant]))
  const at = (layoutVersion: number) => kinOf({ plants: known, layoutVersion }, a).children
  expect(at(1)).toEqual([b, c])
  known.delete(c)
  expect(at(1)).toEqual([b, c])
  expect(at(2)).toEqual([b])
})

it('knows a plant that was withdrawn from one that has not come here yet', () => {
  const farm = farmWith({ plants: [plantWith({ id: b, parents: [a] })], gone: { plants: [plantWith({ id: a, code: 'A' })] } })
  expect(kinNamed(farm, a)).toMatchObject({ plant: { code: 'A' }, withdrawn: true })
  expect(kinNamed(farm, b)).toMatchObject({ plant: { id: b }, withdrawn: false })
  expect(kinNamed(farm, c)).toBeUndefined()
})
