import { expect, it } from 'vitest'
import type { BedID, Day, Plant, PlantID, Stay } from '../crop/nouns'
import { farmWith, plantingWith, plantWith } from '../crop/testing/nouns'
import { whereStands } from './words'

const k = 'k' as PlantID
const stay: Stay = { bed: 'b' as BedID, line: 1, number: 4, from: '', until: '2026-05-04' as Day }

it.each<[string, string, Partial<Plant>, Partial<Plant>]>([
  ['at its foot', 'at the foot of K', {}, { line: 1, number: 4 }],
  ['where it stood before it was moved', 'line 1, 4, where K stood', {}, { line: 2, number: 9, stood: [stay] }],
  ['where it stood, somewhere', 'where K stood', {}, { line: 2, number: 9, stood: [{ ...stay, line: 0, number: 0 }] }],
  ['in its own place once it has one', 'line 3, 1', { line: 3, number: 1 }, { line: 2, number: 9, stood: [stay] }],
])('a seedling beside a plant stands %s: %s', (_, words, seedling, foot) => {
  const plant = plantWith({ id: 'w' as PlantID, beside: k, ...seedling })
  const farm = farmWith({ plantings: [plantingWith()], plants: [plantWith({ id: k, code: 'K', ...foot }), plant] })
  expect(whereStands(farm, plant)).toBe(words)
})
