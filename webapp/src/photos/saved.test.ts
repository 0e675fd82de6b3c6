import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { PhotoHash, Plant, PlantID } from '../crop/nouns'
import { digest } from './digest'
import { savedName } from './saved'
import { filesIn, ZipWriter } from './zip'

const hash = 'ab'.repeat(32) as PhotoHash
const plants = new Map(Object.entries({ k1: 'R4K 7M', k2: '../../ñ:1' }).map(([id, code]) => [id as PlantID, { code } as Plant]))

test.each([
  ['its plant', ['k1'], `R4K 7M ${hash}.jpg`],
  ['both its plants, without what no file name may hold', ['k1', 'k2'], `R4K 7M _ñ_1 ${hash}.jpg`],
  ['nothing where its plant is not here', ['k3'], `${hash}.jpg`],
])('a saved photo is called by %s', (_, of, name) => {
  expect(savedName({ hash, plants: of as PlantID[] }, { plants })).toBe(name)
})

// testdata/saved/photos.zip was written by this code, and the server takes it in (server/take_in_photos_test.go).
test('saved photos are the file that the server takes in on its command line', async () => {
  const file = new Uint8Array(readFileSync(join(import.meta.dirname, '../../../testdata/saved/photos.zip')))
  const zip = new ZipWriter()
  for (const [i, photo] of (await filesIn(new Blob([file]))).entries()) {
    const bytes = new Uint8Array(await photo.arrayBuffer())
    const of = (i === 0 ? ['k1', 'k2'] : []) as PlantID[]
    zip.add({ name: savedName({ hash: await digest(bytes), plants: of }, { plants }), bytes, at: 0 })
  }
  expect(new Uint8Array(await zip.finish().arrayBuffer())).toEqual(file)
})
