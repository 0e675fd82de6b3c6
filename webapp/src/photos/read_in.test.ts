// Bringing saved photos to a shed in memory.

import { afterEach, expect, test, vi } from 'vitest'
import type { PhotoHash } from '../crop/nouns'
import { digest } from './digest'
import type { Bytes } from './photo_db'
import { readInPhotos } from './read_in'
import type { ShedPhotos } from './requests'
import { ShedModel } from './testing/shed_model'
import { ZipWriter } from './zip'

afterEach(() => { vi.restoreAllMocks() })

const small: Bytes = new Uint8Array([1, 2, 3])
const large: Bytes = new Uint8Array(1_300_000).map((_, i) => i * 31)

function saved(...photos: Bytes[]): Blob {
  const zip = new ZipWriter()
  photos.forEach((bytes, i) => zip.add({ name: `${i}.jpg`, bytes, at: 0 }))
  return zip.finish()
}

function over(shed: ShedModel): ShedPhotos {
  const none = () => Promise.reject(new Error('no picture is asked for'))
  return {
    missing: none, small: none, full: none, remove: none,
    head: async hash => shed.head(hash),
    piece: async (hash, size, offset, piece) => shed.piece(hash, size, offset, piece),
  }
}

test('they come whole, in pieces, and once', async () => {
  const shed = new ShedModel()
  expect(await readInPhotos(saved(small, large), over(shed))).toEqual({ kind: 'photos', kept: 2, already: 0, refused: 0 })
  for (const [hash, bytes] of shed.whole) expect(await digest(bytes)).toBe(hash)
  expect(shed.log.filter(line => line.startsWith('piece'))).toHaveLength(4)
  expect(await readInPhotos(saved(small, large), over(shed))).toEqual({ kind: 'photos', kept: 0, already: 2, refused: 0 })
})

test('one of which the shed has a part goes on from there', async () => {
  const shed = new ShedModel()
  shed.piece(await digest(large), large.length, 0, large.subarray(0, 1_000_000))
  shed.log.length = 0
  await readInPhotos(saved(large), over(shed))
  expect(shed.log).toEqual(['head', 'piece 1000000+300000'])
})

test('one that was announced with another length begins anew', async () => {
  const shed = new ShedModel()
  shed.piece(await digest(small), 9, 0, large.subarray(0, 2))
  expect(await readInPhotos(saved(small), over(shed))).toMatchObject({ kept: 1 })
})

test('what is no photo is refused, and the next one comes', async () => {
  const shed = new ShedModel()
  const bad = await digest(small)
  shed.refuse = hash => (hash === bad ? { status: 422, code: 'type' } : undefined)
  expect(await readInPhotos(saved(small, large), over(shed))).toEqual({ kind: 'photos', kept: 1, already: 0, refused: 1 })
})

test.each([
  ['a full disk', { status: 507, code: 'full' }, 'full'],
  ['a role that may not', { status: 403, code: 'role' }, 'role'],
  ['trouble of its own', { status: 500, code: 'failed' }, 'failed'],
])('%s ends it, and says how many came', async (_, refusal, code) => {
  const shed = new ShedModel()
  const bad = await digest(large)
  shed.refuse = (hash: PhotoHash) => (hash === bad ? refusal : undefined)
  expect(await readInPhotos(saved(small, large, small), over(shed))).toEqual({ kind: 'broke', came: 1, of: 3, code })
})

test.each([
  ['is out of reach', () => Promise.reject(new TypeError('Failed to fetch'))],
  ['takes a piece and has no more of it', async () => ({ kind: 'has', offset: 0, whole: false, length: 3 }) as const],
])('a shed that %s ends it', async (_, piece) => {
  vi.spyOn(console, 'error').mockImplementation(() => {})
  expect(await readInPhotos(saved(small), { ...over(new ShedModel()), piece })).toEqual({ kind: 'broke', came: 0, of: 1, code: '' })
})

test('a file that is none of photos is said to be none', async () => {
  expect(await readInPhotos(new Blob(['{"t":"unsent"}']), over(new ShedModel()))).toEqual({ kind: 'malformed' })
})
