// What is said of the storage, and what is known of it.

import { describe, expect, test, vi } from 'vitest'
import type { StorageFacts, StorageTrouble } from './health'
import { askStorage, FarmMarker, troublesOf } from './health'

const sound: StorageFacts = { persisted: true, usage: 10e6, quota: 1000e6, closed: false, lost: false }

describe('storage', () => {
  test.each<[string, Partial<StorageFacts>, StorageTrouble[]]>([
    ['is sound', {}, []],
    ['has just enough room', { usage: 450e6, quota: 500e6 }, []],
    ['has less than 50 MB left', { usage: 20e6, quota: 69e6 }, ['nearly_full']],
    ['is more than nine tenths full', { usage: 901e6, quota: 1000e6 }, ['nearly_full']],
    ['may be deleted', { persisted: false }, ['not_persistent']],
    ['says nothing of itself', { persisted: undefined, usage: undefined, quota: undefined }, []],
    ['was emptied and may be again', { persisted: false, lost: true }, ['lost', 'not_persistent']],
    ['was closed, above all', { persisted: false, usage: 9, quota: 10, closed: true }, ['closed', 'nearly_full', 'not_persistent']],
  ])('that %s', (_, facts, troubles) => {
    expect(troublesOf({ ...sound, ...facts })).toEqual(troubles)
  })
})

describe('asking', () => {
  const storage = (parts: Partial<StorageManager>) => parts as StorageManager
  const estimate = () => Promise.resolve({ usage: 1, quota: 2 })

  test('asks for persistence only where it is not given yet', async () => {
    const asked: string[] = []
    const persist = () => (asked.push('persist'), Promise.resolve(true))
    expect(await askStorage(storage({ persisted: () => Promise.resolve(true), persist, estimate }))).toEqual({ persisted: true, usage: 1, quota: 2 })
    expect(asked).toEqual([])
    expect(await askStorage(storage({ persisted: () => Promise.resolve(false), persist, estimate }))).toMatchObject({ persisted: true })
    expect(asked).toEqual(['persist'])
  })

  test('claims nothing where the browser does not answer', async () => {
    expect(await askStorage(undefined)).toEqual({})
    expect(await askStorage(storage({}))).toEqual({ persisted: undefined, usage: undefined, quota: undefined })
  })
})

test('a marker that cannot be read or written says nothing', () => {
  const denied = () => { throw new DOMException('denied', 'SecurityError') }
  const said = vi.spyOn(console, 'error').mockImplementation(() => {})
  const marker = new FarmMarker({ getItem: denied, setItem: denied } as unknown as Storage)
  marker.set('f')
  expect(marker.farm).toBe('')
  expect(said).toHaveBeenCalledTimes(1)
  said.mockRestore()
})
