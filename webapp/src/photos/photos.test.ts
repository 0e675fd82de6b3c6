// The photos of a device over IndexedDB (fake-indexeddb), a notebook and a shed in memory.

import 'fake-indexeddb/auto'
import { signal } from '@preact/signals'
import { IDBFactory } from 'fake-indexeddb'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import type { Farm, PhotoHash, Plant, PlantID } from '../crop/nouns'
import type { Fact } from '../log/change'
import { RecordError, type SyncStatus } from '../sync/notebook'
import { newestKept } from './keeping'
import { type Bytes, openPhotoDB } from './photo_db'
import { Photos, type PhotoSurroundings } from './photos'
import { PhotoProblem } from './problem'
import { readInPhotos } from './read_in'
import type { ShedPhotos } from './requests'
import { ShedModel } from './testing/shed_model'
import { filesIn } from './zip'

const k1 = 'k1' as PlantID
const day = 24 * 3_600_000
let wall = 0

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory()
  wall = 1_780_000_000_000
})

const open: Photos[] = []
afterEach(() => {
  for (const photos of open.splice(0)) photos.close()
  vi.restoreAllMocks()
})

/** As much of the notebook as photos need. */
class NotebookModel {
  readonly farm = signal({ id: 'f', plants: new Map() } as unknown as Farm)
  readonly sync = signal({ link: 'offline', refused: [] } as unknown as SyncStatus)
  readonly recorded: Fact[] = []
  fails = false

  constructor() {
    this.show([], [])
  }

  async record(facts: readonly Fact[]): Promise<void> {
    if (this.fails) throw new RecordError('closed', 'recording: the storage was closed')
    for (const { op, value } of facts) {
      const { photos, photosAway } = this.plant
      const others = (list: Plant['photos']) => list.map(({ hash }) => hash).filter(hash => hash !== value)
      const one = [value as PhotoHash]
      if (op === 'add') this.show([...one, ...others(photos)], others(photosAway))
      else this.show(others(photos), [...one, ...others(photosAway)])
    }
    this.recorded.push(...facts)
  }

  get plant(): Plant {
    return this.farm.peek().plants.get(k1)!
  }

  link(link: SyncStatus['link']): void {
    this.sync.value = { ...this.sync.peek(), link }
  }

  private show(photos: readonly PhotoHash[], away: readonly PhotoHash[]): void {
    const of = (hashes: readonly PhotoHash[]) => hashes.map(hash => ({ hash, at: wall }))
    const plant = { id: k1, photos: of(photos), photosAway: of(away) } as unknown as Plant
    this.farm.value = { ...this.farm.peek(), plants: new Map([[k1, plant]]) }
  }
}

/** Asks the shed as over HTTP: an answer comes later, or never. */
function over(shed: ShedModel): ShedPhotos {
  const pictureOf = async (hash: PhotoHash, small: boolean) => {
    if (shed.removed.has(hash)) return { kind: 'removed' as const }
    const bytes = shed.whole.get(hash)
    return bytes ? { kind: 'here' as const, bytes: small ? bytes.slice(0, 1) : bytes } : { kind: 'not_here' as const }
  }
  return {
    missing: async hashes => shed.missing(hashes),
    head: async hash => shed.head(hash),
    piece: async (hash, size, offset, piece) => shed.piece(hash, size, offset, piece),
    small: hash => pictureOf(hash, true),
    full: hash => pictureOf(hash, false),
    remove: async hash => {
      shed.remove(hash)
      return 'removed'
    },
  }
}

async function openPhotos(notebook: NotebookModel, shed: ShedModel, around: Partial<PhotoSurroundings> = {}): Promise<Photos> {
  const prepare = async (picked: Blob) => {
    const bytes = new Uint8Array(await picked.arrayBuffer())
    return { bytes, small: bytes.slice(0, 1) }
  }
  const photos = new Photos(notebook, { prepare, shed: over(shed), storage: undefined, wall: () => wall, ...around })
  open.push(photos)
  await photos.opened()
  return photos
}

/** As after a kill, some time later. */
async function reopen(photos: Photos, notebook: NotebookModel, shed: ShedModel, later = 0): Promise<Photos> {
  photos.close()
  notebook.link('offline')
  wall += later
  return openPhotos(notebook, shed)
}

async function until(holds: () => boolean): Promise<void> {
  for (let i = 0; i < 500; i++) {
    if (holds()) return
    await new Promise(done => setTimeout(done, 5))
  }
  throw new Error('it never came about')
}

function picture(...bytes: number[]): Blob {
  return new Blob([new Uint8Array(bytes)])
}

async function world() {
  const [notebook, shed] = [new NotebookModel(), new ShedModel()]
  return { notebook, shed, photos: await openPhotos(notebook, shed) }
}

function onlyHash(notebook: NotebookModel): PhotoHash {
  return notebook.plant.photos[0]!.hash
}

describe('taking a photo', () => {
  test('is stored before a change names it, waits, and shows at once', async () => {
    const { notebook, photos } = await world()
    let there: Bytes | undefined
    const record = notebook.record.bind(notebook)
    notebook.record = async facts => {
      const db = await openPhotoDB('f')
      there = await db.bytes(facts[0]!.value as PhotoHash)
      db.close()
      return record(facts)
    }
    expect(await photos.add(k1, picture(1, 2, 3))).toBe('added')
    expect(there).toEqual(new Uint8Array([1, 2, 3]))
    expect(notebook.recorded).toMatchObject([{ op: 'add', type: 'plant', id: k1, field: 'photos', scope: 'field' }])
    expect(photos.waiting.value).toEqual({ count: 1, bytes: 3 })
    expect(await photos.small(onlyHash(notebook))).toEqual({ kind: 'here', bytes: new Uint8Array([1]) })
    expect(await photos.full(onlyHash(notebook))).toEqual({ kind: 'here', bytes: new Uint8Array([1, 2, 3]) })
  })

  test('that the plant has is no second change', async () => {
    const { notebook, photos } = await world()
    await photos.add(k1, picture(1))
    expect(await photos.add(k1, picture(1))).toBe('there')
    expect(notebook.recorded).toHaveLength(1)
    expect(photos.waiting.value.count).toBe(1)
  })

  test('that cannot be prepared leaves nothing', async () => {
    const [notebook, shed] = [new NotebookModel(), new ShedModel()]
    const prepare = () => Promise.reject(new PhotoProblem('unreadable', 'reading a picture'))
    const photos = await openPhotos(notebook, shed, { prepare })
    await expect(photos.add(k1, picture(1))).rejects.toMatchObject({ reason: 'unreadable' })
    expect([notebook.recorded, photos.own.value.size]).toEqual([[], 0])
  })

  test('is refused where the counts need the room', async () => {
    const [notebook, shed] = [new NotebookModel(), new ShedModel()]
    const storage = { estimate: () => Promise.resolve({ usage: 95, quota: 100 }) } as unknown as StorageManager
    const photos = await openPhotos(notebook, shed, { storage })
    await expect(photos.add(k1, picture(1))).rejects.toMatchObject({ reason: 'full' })
    expect([notebook.recorded, photos.own.value.size]).toEqual([[], 0])
  })

  test('that came to nothing is told of until somebody has seen it', async () => {
    const { notebook, photos } = await world()
    notebook.fails = true
    await expect(photos.add(k1, picture(1))).rejects.toBeInstanceOf(RecordError)
    await expect(photos.add(k1, picture(2))).rejects.toBeInstanceOf(RecordError)
    expect(photos.notTaken.value.get(k1)).toHaveLength(2)
    photos.seen(k1)
    expect(photos.notTaken.value.size).toBe(0)
  })

  test('is refused where the browser stores nothing, and pictures of the shed show all the same', async () => {
    const [notebook, shed] = [new NotebookModel(), new ShedModel()]
    vi.spyOn(console, 'error').mockImplementation(() => {})
    vi.spyOn(globalThis.indexedDB, 'open').mockImplementation(() => { throw new DOMException('denied', 'SecurityError') })
    const photos = await openPhotos(notebook, shed)
    await expect(photos.add(k1, picture(1))).rejects.toMatchObject({ reason: 'no_storage' })
    const other = 'a'.repeat(64) as PhotoHash
    shed.whole.set(other, new Uint8Array([7, 8]))
    notebook.link('live')
    expect(await photos.full(other)).toEqual({ kind: 'here', bytes: new Uint8Array([7, 8]) })
  })
})

describe('a photo whose change could not be recorded', () => {
  async function unrecorded() {
    const all = await world()
    all.notebook.fails = true
    await expect(all.photos.add(k1, picture(1))).rejects.toBeInstanceOf(RecordError)
    all.notebook.fails = false
    return all
  }

  test('is neither sent nor told of, and dropped after a day', async () => {
    const { notebook, shed, photos } = await unrecorded()
    expect(photos.waiting.value.count).toBe(0)
    const next = await reopen(photos, notebook, shed, day / 2)
    expect(next.own.value.size).toBe(1)
    notebook.link('live')
    const last = await reopen(next, notebook, shed, day)
    expect(last.own.value.size).toBe(0)
    expect(shed.log).toEqual([])
  })

  test('is there when it is taken again', async () => {
    const { notebook, photos } = await unrecorded()
    expect(await photos.add(k1, picture(1))).toBe('added')
    expect(photos.waiting.value.count).toBe(1)
    expect(notebook.recorded).toHaveLength(1)
  })
})

describe('the way to the shed', () => {
  test('a photo taken with no line goes out once there is one, also after a kill', async () => {
    const { notebook, shed, photos } = await world()
    await photos.add(k1, picture(1, 2, 3))
    const next = await reopen(photos, notebook, shed)
    expect(next.waiting.value).toEqual({ count: 1, bytes: 3 })
    notebook.link('catching_up')
    notebook.link('live')
    await until(() => next.waiting.value.count === 0)
    expect(shed.whole.get(onlyHash(notebook))).toEqual(new Uint8Array([1, 2, 3]))
    expect([...(await reopen(next, notebook, shed)).own.value.values()]).toMatchObject([{ state: 'sent' }])
  })

  test('a photo taken while the line stands goes out at once', async () => {
    const { notebook, shed, photos } = await world()
    notebook.link('live')
    await photos.add(k1, picture(1))
    await until(() => shed.whole.size === 1)
  })

  test('news are no new line: the shed is asked once', async () => {
    const { notebook, shed, photos } = await world()
    await photos.add(k1, picture(1))
    for (const link of ['live', 'catching_up', 'live', 'catching_up', 'live'] as const) notebook.link(link)
    await until(() => photos.waiting.value.count === 0)
    expect(shed.log.filter(line => line.startsWith('missing'))).toHaveLength(1)
  })

  test('a shed that was restored gets it again', async () => {
    const { notebook, shed, photos } = await world()
    notebook.link('live')
    await photos.add(k1, picture(1))
    await until(() => photos.waiting.value.count === 0)
    shed.whole.clear()
    notebook.link('offline')
    notebook.link('live')
    await until(() => shed.whole.size === 1)
  })

  test('what was taken away is not sent, until it is put back', async () => {
    const { notebook, shed, photos } = await world()
    await photos.add(k1, picture(1))
    const hash = onlyHash(notebook)
    await photos.takeAway(k1, hash)
    expect(photos.waiting.value.count).toBe(0)
    const next = await reopen(photos, notebook, shed, 9 * day)
    notebook.link('live')
    await new Promise(done => setTimeout(done, 20))
    expect(shed.log).toEqual([])
    await next.putBack(k1, hash)
    await until(() => shed.whole.has(hash))
  })

  test('what the shed refuses stays with its reason', async () => {
    const { notebook, shed, photos } = await world()
    shed.refuse = () => ({ status: 422, code: 'damaged' })
    await photos.add(k1, picture(1))
    notebook.link('live')
    await until(() => photos.refused.value === 1)
    expect(photos.waiting.value.count).toBe(0)
    const next = await reopen(photos, notebook, shed)
    expect(next.own.value.get(onlyHash(notebook))).toMatchObject({ state: 'waiting', refusal: 'damaged' })
  })

  test('what an owner deleted goes from the device, is not sent again and is told as that', async () => {
    const { notebook, shed, photos } = await world()
    await photos.add(k1, picture(1, 2, 3))
    const hash = onlyHash(notebook)
    notebook.link('live')
    await until(() => photos.own.value.get(hash)?.state === 'sent')
    shed.remove(hash)
    notebook.link('offline')
    notebook.link('live')
    await until(() => !photos.own.value.has(hash))
    expect([photos.waiting.value.count, photos.refused.value]).toEqual([0, 0])
    expect(await photos.small(hash)).toEqual({ kind: 'removed' })
    const again = await reopen(photos, notebook, shed)
    expect(again.own.value.size).toBe(0)
    expect(shed.whole.size).toBe(0)
  })

  test('the thumbnail of what an owner deleted goes once the full picture is asked for', async () => {
    const { notebook, shed, photos } = await world()
    const hash = 'f'.repeat(64) as PhotoHash
    shed.whole.set(hash, new Uint8Array([1, 2]))
    notebook.link('live')
    await photos.small(hash)
    shed.remove(hash)
    expect(await photos.full(hash)).toEqual({ kind: 'removed' })
    expect(await photos.small(hash)).toEqual({ kind: 'removed' })
  })

  test('what is not the photo any more is not sent as it', async () => {
    const { notebook, shed, photos } = await world()
    await photos.add(k1, picture(1, 2))
    const hash = onlyHash(notebook)
    const db = await openPhotoDB('f')
    await db.keep(photos.own.value.get(hash)!, new Uint8Array([1, 3]), new Uint8Array(1))
    db.close()
    notebook.link('live')
    await until(() => photos.refused.value === 1)
    expect(photos.own.value.get(hash)?.refusal).toBe('lost')
    expect(shed.log).toEqual(['missing 1', 'head'])
  })

  test('beyond the newest, the bytes of what was sent are let go of, and the thumbnails stay', async () => {
    const { notebook, shed, photos } = await world()
    notebook.link('live')
    for (let i = 0; i <= newestKept; i++) {
      await photos.add(k1, picture(i, 1))
      wall++
    }
    await until(() => photos.own.value.size === newestKept && photos.waiting.value.count === 0)
    const first = notebook.plant.photos.at(-1)!.hash
    const next = await reopen(photos, notebook, shed)
    expect(next.own.value.has(first)).toBe(false)
    expect(await next.small(first)).toEqual({ kind: 'here', bytes: new Uint8Array([0]) })
    expect(await next.full(first)).toEqual({ kind: 'out_of_reach' })
    notebook.link('live')
    expect(await next.full(first)).toEqual({ kind: 'here', bytes: new Uint8Array([0, 1]) })
  })
})

describe('deleting for good', () => {
  async function sent() {
    const all = await world()
    await all.photos.add(k1, picture(1, 2, 3))
    all.notebook.link('live')
    await until(() => all.photos.waiting.value.count === 0)
    return { ...all, hash: onlyHash(all.notebook) }
  }

  test('takes the picture from the shed and from here, and leaves its entry', async () => {
    const { notebook, shed, photos, hash } = await sent()
    expect(await photos.remove(hash)).toBe('removed')
    expect([shed.removed.has(hash), photos.own.value.size, photos.removed.value.has(hash)]).toEqual([true, 0, true])
    expect(await photos.small(hash)).toEqual({ kind: 'removed' })
    expect([notebook.plant.photos.length, notebook.recorded.length]).toEqual([1, 1])
    expect((await reopen(photos, notebook, shed)).own.value.size).toBe(0)
  })

  test('needs the shed: without it nothing is asked, and nothing goes', async () => {
    const { notebook, shed, photos, hash } = await sent()
    notebook.link('offline')
    expect(await photos.remove(hash)).toBe('out_of_reach')
    expect([shed.removed.size, photos.own.value.size, photos.removed.value.size]).toEqual([0, 1, 0])
  })

  test.each(['role', 'join', 'failed', 'out_of_reach'] as const)('that comes to %s takes nothing from here', async what => {
    const { notebook, shed, photos, hash } = await sent()
    photos.close()
    const next = await openPhotos(notebook, shed, { shed: { ...over(shed), remove: () => Promise.resolve(what) } })
    expect(await next.remove(hash)).toBe(what)
    expect([next.own.value.size, next.removed.value.size]).toEqual([1, 0])
    expect(await next.full(hash)).toMatchObject({ kind: 'here' })
  })

  test('that breaks off takes nothing from here', async () => {
    const { notebook, shed, photos, hash } = await sent()
    vi.spyOn(console, 'error').mockImplementation(() => {})
    photos.close()
    const next = await openPhotos(notebook, shed, { shed: { ...over(shed), remove: () => Promise.reject(new TypeError('network')) } })
    expect(await next.remove(hash)).toBe('out_of_reach')
    expect(next.own.value.size).toBe(1)
  })

  test('that another did takes the thumbnail too, once it is shown with the shed in reach', async () => {
    const { notebook, shed, photos } = await world()
    const hash = 'e'.repeat(64) as PhotoHash
    shed.whole.set(hash, new Uint8Array([1, 2]))
    notebook.link('live')
    await photos.small(hash)
    await photos.small(hash) // is asked about once on this line
    shed.remove(hash)
    const here = { kind: 'here', bytes: new Uint8Array([1]) }
    expect(await photos.small(hash)).toEqual(here)
    notebook.link('offline')
    expect(await photos.small(hash)).toEqual(here)
    notebook.link('live')
    expect(await photos.small(hash)).toEqual(here)
    await until(() => photos.removed.value.has(hash))
    expect(await photos.small(hash)).toEqual({ kind: 'removed' })
  })
})

describe('saving to a file', () => {
  async function saved(photos: Photos): Promise<number[][]> {
    const files = await filesIn((await photos.onlyHereFile()).file)
    return Promise.all(files.map(async file => [...new Uint8Array(await file.arrayBuffer())]))
  }

  test('holds the photos that are nowhere else, whole, and another phone brings them to the shed', async () => {
    const { notebook, shed, photos } = await world()
    notebook.link('live')
    await photos.add(k1, picture(1, 1))
    await until(() => photos.waiting.value.count === 0)
    expect(photos.onlyHere.value).toEqual({ count: 0, bytes: 0 })
    shed.refuse = () => ({ status: 422, code: 'damaged' })
    await photos.add(k1, picture(2))
    await until(() => photos.refused.value === 1)
    notebook.link('offline')
    await photos.add(k1, picture(3, 3, 3))
    await photos.add(k1, picture(4))
    await photos.takeAway(k1, notebook.plant.photos[0]!.hash)
    expect(photos.onlyHere.value).toEqual({ count: 2, bytes: 4 })
    expect(await saved(photos)).toEqual([[2], [3, 3, 3]])
    shed.refuse = undefined
    expect(await readInPhotos((await photos.onlyHereFile()).file, over(shed))).toEqual({ kind: 'photos', kept: 2, already: 0, refused: 0 })
    expect([...shed.whole.values()].map(bytes => [...bytes])).toEqual([[1, 1], [2], [3, 3, 3]])
  })

  test('one whose change was not recorded is in it too', async () => {
    const { notebook, photos } = await world()
    notebook.fails = true
    await expect(photos.add(k1, picture(1))).rejects.toBeInstanceOf(RecordError)
    expect(await saved(photos)).toEqual([[1]])
  })

  test('tells how many the storage has lost, and saves the others', async () => {
    const { notebook, photos } = await world()
    await photos.add(k1, picture(1))
    const db = await openPhotoDB('f')
    await db.letGo([onlyHash(notebook)])
    db.close()
    await photos.add(k1, picture(2))
    expect(await photos.onlyHereFile()).toMatchObject({ held: 1, lost: 1 })
    expect(await saved(photos)).toEqual([[2]])
  })
})

test('a photo whose bytes were lost is sent once it is taken in again', async () => {
  const { notebook, shed, photos } = await world()
  await photos.add(k1, picture(1))
  const db = await openPhotoDB('f')
  await db.mark([{ hash: onlyHash(notebook), state: 'waiting', refusal: 'lost' }])
  db.close()
  const next = await reopen(photos, notebook, shed)
  expect(next.refused.value).toBe(1)
  expect(await next.add(k1, picture(1))).toBe('there')
  notebook.link('live')
  await until(() => shed.whole.size === 1)
})

describe('a photo of another phone', () => {
  const other = 'b'.repeat(64) as PhotoHash

  test('is out of reach, then not here yet, then here, and stays on this device', async () => {
    const { notebook, shed, photos } = await world()
    expect(await photos.small(other)).toEqual({ kind: 'out_of_reach' })
    notebook.link('live')
    expect(await photos.small(other)).toEqual({ kind: 'not_here' })
    shed.whole.set(other, new Uint8Array([5, 6]))
    expect(await photos.small(other)).toEqual({ kind: 'here', bytes: new Uint8Array([5]) })
    notebook.link('offline')
    await vi.waitFor(async () => expect(await photos.small(other)).toEqual({ kind: 'here', bytes: new Uint8Array([5]) }))
    expect(await photos.full(other)).toEqual({ kind: 'out_of_reach' })
  })

  test('is out of reach where the line breaks meanwhile', async () => {
    const [notebook, shed] = [new NotebookModel(), new ShedModel()]
    vi.spyOn(console, 'error').mockImplementation(() => {})
    const photos = await openPhotos(notebook, shed, { shed: { ...over(shed), small: () => Promise.reject(new TypeError('Failed to fetch')) } })
    notebook.link('live')
    expect(await photos.small(other)).toEqual({ kind: 'out_of_reach' })
  })
})
