import { expect, test } from 'vitest'
import type { PhotoHash, Plant, PlantID } from '../crop/nouns'
import { savedName } from './saved'

const hash = 'ab'.repeat(32) as PhotoHash
const plants = new Map(Object.entries({ k1: 'R4K 7M', k2: '../../ñ:1' }).map(([id, code]) => [id as PlantID, { code } as Plant]))

test.each([
  ['its plant', ['k1'], `R4K 7M ${hash}.jpg`],
  ['both its plants, without what no file name may hold', ['k1', 'k2'], `R4K 7M _ñ_1 ${hash}.jpg`],
  ['nothing where its plant is not here', ['k3'], `${hash}.jpg`],
])('a saved photo is called by %s', (_, of, name) => {
  expect(savedName({ hash, plants: of as PlantID[] }, { plants })).toBe(name)
})
