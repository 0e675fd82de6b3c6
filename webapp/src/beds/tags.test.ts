import { describe, expect, it } from 'vitest'
import type { Day, Plant, PlantID, PlantingID, Season } from '../crop/nouns'
import { farmWith, plantWith } from '../crop/testing/nouns'
import { sheetsFor, tagChoices } from './tags'

const [season, day] = [2026 as Season, '2026-06-03' as Day]

const plant = (id: string, told: Partial<Plant>, ...counted: number[]) =>
  plantWith({ id: id as PlantID, counted: new Map(counted.map((one) => [one as Season, { from: day, to: day }])), ...told })

describe('which plants get a tag', () => {
  const mother: Plant['flags'] = [{ kind: 'mother', day, by: '' }]
  const plants = [
    plant('a', {}, 2026), plant('b', { planting: 'tray' as PlantingID, flags: mother }), plant('c', { flags: [{ kind: 'lift', day, by: '' }] }, 2025),
    plant('d', { planting: 'tray' as PlantingID }, 2025, 2026),
  ]
  it.each([
    ['counted', '', ['a', 'd']],
    ['mother', '', ['b']],
    ['all', '', ['a', 'b', 'c', 'd']],
    ['asked', 'tray', ['b', 'd']],
    ['asked', 'c', ['c']],
    ['asked', '', []],
  ] as const)('%s %s', (choice, asked, ids) => {
    const of = { plants, season, day, farm: farmWith({ plants }), asked: asked as PlantID | '' }
    expect(tagChoices[choice](of).map((one) => one.id)).toEqual(ids)
  })
})

it.each([
  [0, 'a4', 0], [1, 'a4', 1], [14, 'a4', 1], [15, 'a4', 2], [16, 'letter', 1], [17, 'letter', 2], [1200, 'a4', 86],
] as const)('%d tags on %s take %d sheets', (tags, paper, sheets) => {
  expect(sheetsFor(tags, paper)).toBe(sheets)
})
