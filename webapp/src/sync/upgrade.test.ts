// A phone that was away for three weeks opens a newer app on the database that an older one wrote, and
// meets a newer shed.

import 'fake-indexeddb/auto'
import { IDBFactory } from 'fake-indexeddb'
import { openDB } from 'idb'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import type { Fact } from '../log/change'
import { Unpacker } from '../log/batch_unpack'
import { canonical, readChange } from '../log/canonical'
import { chainAfter, chainStart } from '../log/chain'
import { count } from '../log/count'
import { openFarmDB } from '../db/farm_db'
import { packedChunk } from '../db/format_1'
import type { Opened } from './open'
import { openNotebook } from './open'
import { DoorModel } from './testing/door_model'
import { ShedModel } from './testing/shed_model'
import { SocketModel } from './testing/socket_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const incarnation = '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'
const other = '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6'
const threeWeeks = 21 * 86_400_000
const then = Date.now() - threeWeeks

function text(by: string, seq: number, l: number, id: string, value: number, extra: string): string {
  return `["${by}",${seq},${l},0,0,"p1","field","count","visit","${id}","|0|0",${value},${extra},0]`
}

/** Framed by the older app, the second with parts that it knew and this one does not. */
const texts = [
  text(incarnation, 1, then, 'v1', 3, '{}'),
  text(incarnation, 2, then + 1, 'v2', 4, '{"scent":"faint","seen":["a","b"]}'),
]
const hashes = texts.map((_, i) => chainAfter(chainStart(farm, incarnation), texts.slice(0, i + 1)))
const own = texts.map((one, i) => ({
  incarnation, first: i + 1, texts: [one], hash: hashes[i], orders: [i === 0 ? { l: then, c: 0 } : null], refused: [], moved: false,
}))
const drafted: Fact = { scope: 'field', op: 'count', type: 'visit', id: 'v3', field: '|0|0', value: 5, extra: { later: 1 } }
const drafts = [{ id: 4, stamp: { l: then + 2, c: 0 }, facts: [{ fact: drafted, person: 'p1' }] }]
const pen = { incarnation, formers: [], seq: 2, settled: 1, clock: { l: then + 2, c: 0 }, draft: 4, scent: 'unknown' }
const cursor = { epoch: 'epoch 1', scopes: ['field', 'shed'], arrival: 2, last: `${other}:1` }
const told = text(other, 1, then, 'v9', 7, '{}')

/** The database as format 1 had it. */
async function writeFormat1(): Promise<void> {
  const db = await openDB(`corymb farm ${farm}`, 1, {
    upgrade: db => {
      db.createObjectStore('meta')
      db.createObjectStore('drafts', { keyPath: 'id' })
      db.createObjectStore('own', { keyPath: ['incarnation', 'first'] })
      db.createObjectStore('history', { keyPath: ['generation', 'number'] })
      db.createObjectStore('kept')
    },
  })
  const tx = db.transaction(['meta', 'drafts', 'own', 'history', 'kept'], 'readwrite')
  await tx.objectStore('meta').put(pen, 'pen')
  await tx.objectStore('meta').put({ generation: 3, cursor, staging: null, levelAt: then }, 'reading')
  for (const operation of own) await tx.objectStore('own').put(operation)
  for (const draft of drafts) await tx.objectStore('drafts').put(draft)
  await tx.objectStore('history').put({ generation: 4, number: 1, changes: `[${told}]`, orders: [then, 0] }) // a reading anew
  await tx.objectStore('history').put({ generation: 3, number: 2, changes: '[', orders: [] }) // damaged
  await tx.objectStore('history').put({ generation: 3, number: 1, changes: `[${texts[0]},${told}]`, orders: [then, 0, then, 0] })
  await tx.objectStore('kept').put({ bed: 'b1', at: 7 }, 'row.position')
  await tx.done
  db.close()
}

const opened: Opened[] = []

beforeEach(async () => {
  globalThis.indexedDB = new IDBFactory()
  const device = await openDB('corymb device', 1, { upgrade: db => void db.createObjectStore('settings') })
  await device.put('settings', farm, 'farm')
  device.close()
  await writeFormat1()
})

afterEach(() => {
  for (const one of opened.splice(0)) if (one.notebook) one.close()
})

async function openOver(shed: ShedModel | undefined) {
  const surroundings = {
    socket: () => new SocketModel(shed) as unknown as WebSocket,
    moment: () => ({ now: performance.now(), wall: Date.now() }),
  }
  const one = await openNotebook({ door: new DoorModel({ kind: 'unreachable' }), origin: 'http://shed.invalid', surroundings })
  opened.push(one)
  if (!one.notebook) throw new Error('no notebook')
  return one.notebook
}

async function until(holds: () => boolean): Promise<void> {
  for (let i = 0; i < 500; i++) {
    if (holds()) return
    await new Promise(done => setTimeout(done, 10))
  }
  throw new Error('it never came about')
}

/** The shed as it stands after the three weeks: it holds what the phone knew, and more. */
function shedNow(): ShedModel {
  const shed = new ShedModel(farm, 'epoch 1', Date.now())
  shed.operation([readChange(texts[0]!)])
  shed.operation([readChange(told)])
  shed.operation([{ ...readChange(told), seq: 2, id: 'v10', stamp: { l: then + 9, c: 0 } }])
  return shed
}

describe('the upgrade', () => {
  test('leaves everything recorded here as it lies, and packs what the shed had told', async () => {
    const { store, contents } = await openFarmDB(farm, 'this tab', () => {}, () => {})
    const { chunks, ...rest } = contents
    expect(rest).toEqual({
      pen, reading: { generation: 3, cursor: null, staging: null, levelAt: then }, drafts, own,
      kept: new Map([['row.position', { bed: 'b1', at: 7 }]]),
    })
    expect(chunks.map(({ generation, number, count }) => [generation, number, count])).toEqual([[3, 1, 2]])
    const history = chunks.flatMap(({ batches }) => batches.map(batch => new Unpacker().read(batch)))
    expect(history.flatMap(({ changes }) => changes.map(canonical))).toEqual([texts[0], told])
    expect(history.flatMap(({ orders }) => orders)).toEqual([{ l: then, c: 0 }, { l: then, c: 0 }])
    expect(contents.own.flatMap(operation => operation.texts)).toEqual(texts)
    store.close()
  })

  test('that fails leaves everything as it was, and is done at the next opening', async () => {
    const said = vi.spyOn(console, 'error').mockImplementation(() => {})
    const update = vi.spyOn(IDBCursorWithValue.prototype, 'update').mockImplementation(() => {
      throw new DOMException('no space', 'QuotaExceededError')
    })
    await expect(openFarmDB(farm, 'this tab', () => {}, () => {})).rejects.toMatchObject({ name: 'StorageError' })
    update.mockRestore()
    const db = await openDB(`corymb farm ${farm}`)
    expect([db.version, await db.get('meta', 'reading')]).toEqual([1, { generation: 3, cursor, staging: null, levelAt: then }])
    db.close()
    const notebook = await openOver(undefined)
    expect(notebook.cell('v9' as never, '|0|0').total).toBe(7)
    said.mockRestore()
  })

  test('packs also what is more than a batch may hold', () => {
    const parents = Array.from({ length: 1000 }, (_, i) => `k${i}`)
    const changes = Array.from({ length: 2100 }, (_, i) => [
      other, i + 1, then, i, 0, 'p1', 'field', 'set', 'plant', `k${i}`, 'parents', i < 70 ? parents : 'one', {}, 0,
    ])
    const chunk = packedChunk({ generation: 3, number: 1, changes: JSON.stringify(changes), orders: changes.flatMap((_, i) => [then, i]) })
    const read = chunk.batches.map(batch => new Unpacker().read(batch))
    expect(read.flatMap(batch => batch.changes.map(canonical))).toEqual(changes.map(change => JSON.stringify(change)))
    expect(chunk.count).toBe(2100)
  })

  test('shows what was recorded here, and what the shed had told, before the shed is met', async () => {
    const notebook = await openOver(undefined)
    expect(['v1', 'v2', 'v3'].map(id => notebook.cell(id as never, '|0|0').own)).toEqual([3, 4, 5])
    expect(notebook.cell('v9' as never, '|0|0').total).toBe(7)
    expect(notebook.sync.value.pending).toBe(2)
    expect(notebook.kept('row.position')).toEqual({ bed: 'b1', at: 7 })
  })

  test('sends what was framed with the same bytes, and the drafts, with parts that nobody here knows', async () => {
    const shed = shedNow()
    const notebook = await openOver(shed)
    await until(() => notebook.sync.value.link === 'live' && notebook.sync.value.pending + notebook.sync.value.sent === 0)
    const settled = shed.pastOf(incarnation).map(({ change }) => canonical(change))
    expect(settled.slice(0, 2)).toEqual(texts)
    expect(shed.kept.at(-1)!.change).toMatchObject({ id: 'v3', value: 5, extra: { later: 1 } })
    expect(count(shed.state().entity('visit', 'v3')!, '|0|0').total).toBe(5)
    expect(['v9', 'v10'].map(id => notebook.cell(id as never, '|0|0').total)).toEqual([7, 7])
  })
})

describe('a newer shed', () => {
  test('that speaks no version of this app is said; the log stays and can be saved', async () => {
    const shed = shedNow()
    shed.versions = [2]
    const notebook = await openOver(shed)
    await until(() => notebook.sync.value.link === 'refused')
    expect(notebook.sync.value).toMatchObject({ refusal: 'version', pending: 2 })
    const [header, ...lines] = (await notebook.unsentFile()).trimEnd().split('\n')
    expect(JSON.parse(header!)).toMatchObject({ incarnation, before: hashes[0], unsent: 2 })
    expect(lines[0]).toBe(texts[1])
    expect(readChange(lines[1]!)).toMatchObject({ id: 'v3', seq: 3 })
    shed.versions = [1, 2]
    notebook.tryAgain()
    await until(() => notebook.sync.value.pending + notebook.sync.value.sent === 0)
    expect(shed.pastOf(incarnation).map(({ change }) => canonical(change))).toEqual([texts[0], ...lines])
  })
})
