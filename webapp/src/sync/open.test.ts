// The whole notebook over IndexedDB (fake-indexeddb) and a shed in memory.

import 'fake-indexeddb/auto'
import type { AddressInfo } from 'node:net'
import { createServer } from 'node:http'
import type { Server } from 'node:http'
import { forceCloseDatabase, IDBFactory } from 'fake-indexeddb'
import { openDB } from 'idb'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { bedFacts, countFact, visitFacts, withdrawnFact } from '../crop/facts'
import type { Bed, BedID, Day, Millimetres, PersonID, PlantID, Visit } from '../crop/nouns'
import type { Fact } from '../log/change'
import { dump } from '../log/dump'
import type { Notebook } from './notebook'
import { RecordError } from './notebook'
import type { Opened, OpenOptions } from './open'
import { openNotebook } from './open'
import { ShedModel } from './testing/shed_model'
import { SocketModel } from './testing/socket_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const day = '2026-05-28' as Day
const plant = 'k1' as PlantID

let server: Server
let origin: string
let shed: ShedModel | undefined
const opened: Opened[] = []

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory()
  shed = undefined
  server = createServer((_request, answer) => answer.end(JSON.stringify({ farm, name: 'Test farm' })))
  await new Promise<void>(ready => server.listen(0, '127.0.0.1', ready))
  origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
})

afterEach(async () => {
  for (const one of opened.splice(0)) if (one.notebook) one.close()
  await new Promise(done => server.close(done))
})

async function open(options: OpenOptions = {}): Promise<Opened> {
  const surroundings = {
    socket: () => new SocketModel(shed) as unknown as WebSocket,
    moment: () => ({ now: performance.now(), wall: Date.now() }),
  }
  const one = await openNotebook({ origin, surroundings, ...options })
  opened.push(one)
  return one
}

async function notebook(options: OpenOptions = {}): Promise<Notebook> {
  const { notebook } = await open(options)
  if (!notebook) throw new Error('no notebook')
  return notebook
}

function visit(nb: Notebook, stems: number): Fact[] {
  const v: Visit = {
    id: nb.visitID(plant, day, 'cut'), plant, bed: 'b1' as BedID, date: day, purpose: 'cut', person: nb.person.peek(),
    flush: 'spring', toOrder: false, planting: '', age: 0, counts: [],
  }
  return [...visitFacts(v), countFact('field', v.id, '|0|0', stems)]
}

async function until(holds: () => boolean): Promise<void> {
  for (let i = 0; i < 500; i++) {
    if (holds()) return
    await new Promise(done => setTimeout(done, 10))
  }
  throw new Error('it never came about')
}

describe('opening', () => {
  test('asks for the farm once and starts without network afterwards', async () => {
    expect((await notebook()).farm.value.id).toBe(farm)
    for (const one of opened.splice(0)) if (one.notebook) one.close()
    await new Promise(done => server.close(done))
    expect((await notebook()).farm.value.id).toBe(farm)
  })

  test('says that there is no farm where none is known and nobody answers', async () => {
    await new Promise(done => server.close(done))
    expect(await open()).toEqual({ problem: 'no_farm' })
  })

  test('says that there is no storage', async () => {
    Object.defineProperty(globalThis, 'indexedDB', { value: undefined, configurable: true, writable: true })
    expect(await open()).toEqual({ problem: 'no_storage' })
  })

  test('says that there is no room, and not that nothing was counted', async () => {
    const put = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('no room', 'QuotaExceededError')
    })
    try {
      expect(await open()).toEqual({ problem: 'full' })
    } finally {
      put.mockRestore()
    }
  })

  test('says that a newer version has written here', async () => {
    ;(await openDB(`corymb farm ${farm}`, 99)).close()
    expect(await open()).toEqual({ problem: 'newer_format' })
  })

  test('a tab that was overtaken stores nothing more and says so', async () => {
    let lost = 0
    const first = await notebook({ onLost: () => lost++ })
    const second = await notebook({ takeOver: true })
    await expect(first.record(visit(first, 3))).rejects.toMatchObject({ name: 'RecordError', reason: 'closed' })
    expect(lost).toBe(1)
    await second.record(visit(second, 4))
    expect(second.cell(second.visitID(plant, day, 'cut'), '|0|0').own).toBe(4)
  })
})

/** A device's own memory beside the database. */
function memoryOf(entries: Record<string, string>): Storage {
  const held = new Map(Object.entries(entries))
  return {
    getItem: (name: string) => held.get(name) ?? null,
    setItem: (name: string, value: string) => void held.set(name, value),
  } as unknown as Storage
}

describe('storage', () => {
  const close = () => {
    for (const one of opened.splice(0)) if (one.notebook) one.close()
  }

  test('that was emptied since is said until a person has read it', async () => {
    const memory = memoryOf({})
    expect((await notebook({ storage: { memory } })).storage.value).toEqual([])
    close()
    globalThis.indexedDB = new IDBFactory()
    const emptied = await notebook({ storage: { memory } })
    expect(emptied.storage.value).toEqual(['lost'])
    close()
    const again = await notebook({ storage: { memory } })
    expect(again.storage.value).toEqual(['lost'])
    await again.forgetLoss()
    expect(again.storage.value).toEqual([])
    close()
    expect((await notebook({ storage: { memory } })).storage.value).toEqual([])
  })

  test('that was emptied is not taken for a new device where nobody answers', async () => {
    const storage = { memory: memoryOf({}) }
    await notebook({ storage })
    close()
    globalThis.indexedDB = new IDBFactory()
    await new Promise(done => server.close(done))
    expect(await open({ storage })).toEqual({ problem: 'emptied' })
  })

  test('of another farm was not lost', async () => {
    const memory = memoryOf({ 'corymb farm': 'another' })
    expect((await notebook({ storage: { memory } })).storage.value).toEqual([])
  })

  test('that is not persistent and nearly full is said', async () => {
    const manager = {
      persisted: () => Promise.resolve(false), persist: () => Promise.resolve(false),
      estimate: () => Promise.resolve({ usage: 95e6, quota: 100e6 }),
    } as unknown as StorageManager
    const nb = await notebook({ storage: { manager } })
    await until(() => nb.storage.value.length > 0)
    expect(nb.storage.value).toEqual(['nearly_full', 'not_persistent'])
  })

  test('that the browser closes is said, and nothing is shown that is not stored', async () => {
    const databases: IDBDatabase[] = []
    const open = globalThis.indexedDB.open.bind(globalThis.indexedDB)
    globalThis.indexedDB.open = (...named) => {
      const request = open(...named)
      request.addEventListener('success', () => databases.push(request.result))
      return request
    }
    let lost = 0
    const nb = await notebook({ onLost: () => lost++ })
    for (const db of databases) forceCloseDatabase(db as unknown as Parameters<typeof forceCloseDatabase>[0])
    await until(() => nb.storage.value.includes('closed'))
    await expect(nb.record(visit(nb, 3))).rejects.toMatchObject({ reason: 'closed' })
    expect(nb.farm.value.visits.size).toBe(0)
    expect(lost).toBe(0)
  })
})

describe('recording', () => {
  test('what was recorded is there after a kill, and the farm shows it', async () => {
    const first = await notebook()
    await first.record(visit(first, 3))
    await first.record(visit(first, 4))
    await first.keep('row.position', { bed: 'b1' })
    // No close: the tab was killed.
    const again = await notebook({ takeOver: true })
    const id = again.visitID(plant, day, 'cut')
    expect(again.cell(id, '|0|0')).toEqual({ own: 4, total: 4, tips: [] })
    expect(again.farm.value.visits.get(id)?.counts.map(c => c.stems)).toEqual([4])
    expect([...(again.farm.value.visitsOf.get(plant) ?? [])]).toEqual([id])
    expect(again.kept('row.position')).toEqual({ bed: 'b1' })
    expect(again.sync.value.pending).toBeGreaterThan(0)
  })

  test('a fact that stands already is not said again', async () => {
    const nb = await notebook()
    await nb.record(visit(nb, 3))
    const { pending } = nb.sync.value
    await nb.record(visit(nb, 3))
    await nb.record(visit(nb, 5))
    expect(nb.sync.value.pending).toBe(pending)
  })

  test('a fact that cannot be kept is refused and nothing of its operation stands', async () => {
    const nb = await notebook()
    const bad: Fact = { scope: 'field', op: 'set', type: 'bed', id: 'b2', field: 'name', value: 'a\u0000b' }
    await expect(nb.record([...visit(nb, 3), bad])).rejects.toBeInstanceOf(RecordError)
    expect(nb.farm.value.visits.size).toBe(0)
    expect(nb.sync.value.pending).toBe(0)
  })

  test('a withdrawn visit leaves the farm and comes back', async () => {
    const nb = await notebook()
    await nb.record(visit(nb, 3))
    const id = nb.visitID(plant, day, 'cut')
    await nb.record([withdrawnFact('visit', id, true)])
    expect(nb.farm.value.visits.has(id)).toBe(false)
    expect(nb.visit(id)).toMatchObject({ plant, purpose: 'cut' })
    await nb.record([withdrawnFact('visit', id, false)])
    expect(nb.farm.value.visits.has(id)).toBe(true)
  })

  test('a correction has its identity at once, so that the next can name it', async () => {
    const nb = await notebook()
    const id = nb.visitID(plant, day, 'cut')
    await nb.record(visit(nb, 5))
    const by = (value: number, saw: number, after: readonly string[]): Fact => ({
      scope: 'field', op: 'correct', type: 'visit', id, field: '|0|0', value, extra: { saw, ...(after.length > 0 && { after }) },
    })
    await nb.record([by(-2, 5, [])])
    const first = nb.cell(id, '|0|0')
    expect(first).toMatchObject({ own: 5, total: 3 })
    await nb.record([by(1, 3, first.tips)])
    expect(nb.cell(id, '|0|0')).toMatchObject({ own: 5, total: 4 })
    expect(nb.looks.value).toEqual([])
  })

  test('a full disk is said and nothing shows', async () => {
    const nb = await notebook()
    const put = Object.getOwnPropertyDescriptor(globalThis.IDBObjectStore.prototype, 'put')!
    globalThis.IDBObjectStore.prototype.put = () => {
      throw new DOMException('no space', 'QuotaExceededError')
    }
    await expect(nb.record(visit(nb, 3))).rejects.toMatchObject({ reason: 'full' })
    Object.defineProperty(globalThis.IDBObjectStore.prototype, 'put', put)
    expect(nb.farm.value.visits.size).toBe(0)
    await nb.record(visit(nb, 3))
    expect(nb.farm.value.visits.size).toBe(1)
  })
})

describe('syncing', () => {
  const bed: Bed = {
    id: 'b1' as BedID, name: 'North', length: 9000 as Millimetres, width: 1200 as Millimetres, lines: 3, cutBack: new Map(),
  }

  test('what was recorded with no network is sent when there is one, and is there after a restart', async () => {
    const first = await notebook()
    await first.choosePerson('p1' as PersonID)
    await first.record(visit(first, 3))
    await first.record(bedFacts(bed))
    for (const one of opened.splice(0)) if (one.notebook) one.close()

    shed = new ShedModel(farm, 'epoch 1', Date.now())
    const again = await notebook()
    await until(() => again.sync.value.link === 'live' && again.sync.value.pending + again.sync.value.sent === 0)
    expect(again.sync.value.acknowledged).toBe(shed.kept.length)
    expect(shed.kept.every(k => k.change.person === 'p1')).toBe(true)
    for (const one of opened.splice(0)) if (one.notebook) one.close()

    shed = undefined
    const third = await notebook()
    expect(third.sync.value).toMatchObject({ pending: 0, sent: 0 })
    expect(third.farm.value.beds.get('b1' as BedID)?.name).toBe('North')
    expect(third.cell(third.visitID(plant, day, 'cut'), '|0|0').total).toBe(3)
  })

  test('framed and not sent is all there after a kill', async () => {
    const first = await notebook()
    await first.record(visit(first, 3))
    const file = await first.unsentFile() // frames everything
    const framed = file.trim().split('\n').slice(1)
    expect(framed.length).toBe(first.sync.value.pending)

    shed = new ShedModel(farm, 'epoch 1', Date.now())
    const again = await notebook({ takeOver: true })
    await until(() => shed!.kept.length === framed.length && again.sync.value.pending + again.sync.value.sent === 0)
    const sent = shed.kept.map(k => `${k.change.incarnation}:${k.change.seq}`)
    expect(sent).toEqual(framed.map(text => (JSON.parse(text) as unknown[]).slice(0, 2).join(':')))
  })

  test('what others recorded shows, and stays after a restart', async () => {
    shed = new ShedModel(farm, 'epoch 1', Date.now())
    const facts = bedFacts(bed)
    shed.operation(facts.map((fact, i) => ({
      ...fact, incarnation: '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c', seq: i + 1, stamp: { l: Date.now(), c: 0 },
      rest: facts.length - 1 - i, person: '',
    })))
    const nb = await notebook()
    await until(() => nb.farm.value.beds.size === 1)
    expect(nb.sync.value).toMatchObject({ link: 'live', progress: undefined })
    expect(nb.sync.value.levelAt).toBeGreaterThan(0)
    const again = await notebook({ takeOver: true })
    expect(again.farm.value.beds.get('b1' as BedID)).toEqual(bed)
    expect(dump(shed.state()).split('\n')).toHaveLength(facts.length)
  })
})
