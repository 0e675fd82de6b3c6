// What of photos lies in the browser's database.

import 'fake-indexeddb/auto'
import { IDBFactory } from 'fake-indexeddb'
import { openDB } from 'idb'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { PhotoHash, PlantID } from '../crop/nouns'
import { StorageError } from '../db/records'
import { type Bytes, openPhotoDB, type OwnPhoto, type PhotoDB } from './photo_db'

let db: PhotoDB

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory()
  db = await openPhotoDB('f')
})

afterEach(() => db.close())

function named(n: number): PhotoHash {
  return String(n).padStart(64, '0') as PhotoHash
}

function photo(n: number, parts: Partial<OwnPhoto> = {}): OwnPhoto {
  return { hash: named(n), plants: ['k1' as PlantID], size: 3, at: n, state: 'waiting', refusal: '', ...parts }
}

const bytes = (...all: number[]): Bytes => new Uint8Array(all)

/** As after a kill: only what is on disk is there. */
async function reopen(): Promise<void> {
  db.close()
  db = await openPhotoDB('f')
}

describe('keeping', () => {
  test('a photo, its bytes and its thumbnail are there after a kill', async () => {
    await db.keep(photo(1), bytes(1, 2, 3), bytes(9))
    await reopen()
    expect(await db.own()).toEqual([photo(1)])
    expect(await db.bytes(named(1))).toEqual(bytes(1, 2, 3))
    expect(await db.small(named(1))).toEqual(bytes(9))
    expect(await db.bytes(named(2))).toBeUndefined()
  })

  test('one that is here keeps what the shed said of it, and gains a plant', async () => {
    await db.keep(photo(1), bytes(1), bytes(9))
    await db.mark([{ hash: named(1), state: 'sent', refusal: '' }])
    const again = await db.keep(photo(1, { plants: ['k2' as PlantID], at: 7 }), bytes(1), bytes(9))
    expect(again).toEqual(photo(1, { plants: ['k1', 'k2'] as PlantID[], at: 7, state: 'sent' }))
    expect(await db.own()).toEqual([again])
  })

  test('farms are apart', async () => {
    await db.keep(photo(1), bytes(1), bytes(9))
    const other = await openPhotoDB('g')
    expect(await other.own()).toEqual([])
    other.close()
  })

  test('a database of a newer version of the app is not touched', async () => {
    db.close()
    ;(await openDB('corymb photos f', 2)).close()
    await expect(openPhotoDB('f')).rejects.toMatchObject({ name: 'StorageError', reason: 'newer_format' })
  })

  test('what cannot be stored rejects, and nothing of it is there', async () => {
    db.close()
    await expect(db.keep(photo(1), bytes(1), bytes(9))).rejects.toBeInstanceOf(StorageError)
    db = await openPhotoDB('f')
    expect(await db.own()).toEqual([])
    const bad = (() => {}) as unknown as Bytes // no such thing can be stored
    await expect(db.keep(photo(2), bytes(1), bad)).rejects.toBeInstanceOf(StorageError)
    expect([await db.own(), await db.bytes(named(2)), await db.small(named(2))]).toEqual([[], undefined, undefined])
  })
})

describe('what the shed said', () => {
  test('is noted of what is here alone', async () => {
    await db.keep(photo(1), bytes(1), bytes(9))
    const marked = await db.mark([
      { hash: named(1), state: 'waiting', refusal: 'type' }, { hash: named(2), state: 'sent', refusal: '' },
    ])
    expect(marked).toEqual([photo(1, { refusal: 'type' })])
    await reopen()
    expect(await db.own()).toEqual(marked)
  })
})

describe('letting go', () => {
  test('leaves the thumbnail; dropping leaves nothing', async () => {
    for (const n of [1, 2, 3]) await db.keep(photo(n), bytes(n), bytes(9))
    await db.letGo([named(1)])
    await db.drop([named(2)])
    await reopen()
    expect((await db.own()).map(({ hash }) => hash)).toEqual([named(3)])
    expect([await db.bytes(named(1)), await db.bytes(named(2))]).toEqual([undefined, undefined])
    expect(await db.small(named(1))).toEqual(bytes(9))
    expect(await db.small(named(2))).toBeUndefined()
  })
})

describe('thumbnails of others', () => {
  test('beyond so many, those that came first go, and own ones stay', async () => {
    await db.keep(photo(0), bytes(1), bytes(9))
    for (const n of [3, 1, 2, 4, 5]) await db.keepSmall({ hash: named(n), bytes: bytes(n), at: n }, 4)
    const here = await Promise.all([0, 1, 2, 3, 4, 5].map(async n => (await db.small(named(n))) !== undefined))
    expect(here).toEqual([true, false, false, true, true, true])
  })
})
