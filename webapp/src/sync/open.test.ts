// The whole notebook over IndexedDB (fake-indexeddb) and a shed in memory.

import 'fake-indexeddb/auto'
import { forceCloseDatabase, IDBFactory } from 'fake-indexeddb'
import { openDB } from 'idb'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { bedFacts, countFact, visitFacts, withdrawnFact } from '../crop/facts'
import type { Bed, BedID, Day, Millimetres, PersonID, PlantID, Visit } from '../crop/nouns'
import { openDevice } from '../db/device_db'
import { readChange } from '../log/canonical'
import type { Fact } from '../log/change'
import { dump } from '../log/dump'
import type { Notebook } from './notebook'
import { ownersAlone, RecordError } from './notebook'
import type { Opened, OpenOptions } from './open'
import { openNotebook } from './open'
import { DoorModel, entered } from './testing/door_model'
import { ShedModel } from './testing/shed_model'
import { SocketModel } from './testing/socket_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const device = '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6'
const day = '2026-05-28' as Day
const plant = 'k1' as PlantID

let door: DoorModel
let shed: ShedModel | undefined
const opened: Opened[] = []

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory()
  shed = undefined
  door = new DoorModel(entered(device, farm))
})

afterEach(closeAll)

function closeAll(): void {
  for (const one of opened.splice(0)) if (one.notebook) one.close()
}

async function open(options: Partial<OpenOptions> = {}): Promise<Opened> {
  const surroundings = {
    socket: () => new SocketModel(shed) as unknown as WebSocket,
    moment: () => ({ now: performance.now(), wall: Date.now() }),
  }
  const one = await openNotebook({ door, origin: 'http://shed.invalid', surroundings, ...options })
  opened.push(one)
  return one
}

async function notebook(options: Partial<OpenOptions> = {}): Promise<Notebook> {
  const { notebook } = await open(options)
  if (!notebook) throw new Error('no notebook')
  return notebook
}

function visit(nb: Notebook, stems: number): Fact[] {
  const v: Visit = {
    id: nb.visitID(plant, day, 'cut'), plant, bed: 'b1' as BedID, date: day, purpose: 'cut', person: nb.person.peek(),
    flush: 'spring', toOrder: false, planting: '', age: 0, stage: '', counts: [], beside: [],
  }
  return [...visitFacts(v), countFact('field', v.id, '|0|0', stems)]
}

/** How many operations end in some lines of a saved file. */
function operationsIn(lines: readonly string[]): number {
  return lines.filter((line) => readChange(line).rest === 0).length
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
    closeAll()
    door.entry = { kind: 'unreachable' }
    expect((await notebook()).farm.value.id).toBe(farm)
  })

  test('says that there is no farm where none is known and nobody answers', async () => {
    door.entry = { kind: 'unreachable' }
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
  test('that was emptied since is said until a person has read it', async () => {
    const memory = memoryOf({})
    expect((await notebook({ storage: { memory } })).storage.value).toEqual([])
    closeAll()
    globalThis.indexedDB = new IDBFactory()
    const emptied = await notebook({ storage: { memory } })
    expect(emptied.storage.value).toEqual(['lost'])
    closeAll()
    const again = await notebook({ storage: { memory } })
    expect(again.storage.value).toEqual(['lost'])
    await again.forgetLoss()
    expect(again.storage.value).toEqual([])
    closeAll()
    expect((await notebook({ storage: { memory } })).storage.value).toEqual([])
  })

  test('that was emptied is not taken for a new device where nobody answers', async () => {
    const storage = { memory: memoryOf({}) }
    await notebook({ storage })
    closeAll()
    globalThis.indexedDB = new IDBFactory()
    door.entry = { kind: 'unreachable' }
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

describe('joining', () => {
  const ana = 'ana' as PersonID
  const ben = 'ben' as PersonID

  test.each(['join', 'withdrawn'] as const)('is asked for where the shed says %s, and nothing of a farm is stored', async kind => {
    door.entry = { kind }
    const memory = memoryOf({})
    expect(await open({ storage: { memory } })).toEqual({ problem: kind, device: door.asked[0], emptied: false })
    expect(await open({ storage: { memory } })).toMatchObject({ device: door.asked[0] })
  })

  test('of a device that had a farm and was emptied says so', async () => {
    door.entry = { kind: 'join' }
    expect(await open({ storage: { memory: memoryOf({ 'corymb farm': farm }) } })).toMatchObject({ problem: 'join', emptied: true })
  })

  test('adopts the id by which the shed knows the device, and keeps person and role for the field', async () => {
    const first = await notebook()
    expect(first).toMatchObject({ device })
    closeAll()
    door.entry = { kind: 'unreachable' }
    const again = await notebook()
    expect(again).toMatchObject({ device })
    expect(again.person.value).toBe(ana)
    expect(again.member.value).toMatchObject({ name: 'Ana', role: 'crew' })
  })

  test('what an owner changed is known as soon as the shed is reached, and who counts stays', async () => {
    const first = await notebook()
    await first.choosePerson(ben)
    closeAll()
    shed = new ShedModel(farm, 'epoch 1', Date.now())
    door.entry = entered(device, farm, { role: 'owner' })
    const again = await notebook()
    await until(() => again.member.value?.role === 'owner')
    expect(again.person.value).toBe(ben)
  })

  describe('what only an owner may read', () => {
    const name = `${ownersAlone}plan`
    test.each([['crew', undefined], ['viewer', undefined], ['owner', { revenue: 5 }]] as const)('stays with a device only while it is an owner’s: %s, %o', async (role, want) => {
      door.entry = entered(device, farm, { role: 'owner' })
      const nb = await notebook()
      await nb.keep(name, { revenue: 5 })
      await nb.keep('plan', { stems: 7 })
      await nb.joined(entered(device, farm, { role }))
      expect(nb.kept(name)).toEqual(want)
      closeAll()
      door.entry = { kind: 'unreachable' }
      const again = await notebook()
      expect([again.kept(name), again.kept('plan')]).toEqual([want, { stems: 7 }])
    })

    test('is not kept where it was asked for as an owner’s and comes once the device is none’s', async () => {
      door.entry = entered(device, farm, { role: 'owner' })
      const nb = await notebook()
      await nb.joined(entered(device, farm, { role: 'crew' }))
      await nb.keep(name, { revenue: 5 })
      expect(nb.kept(name)).toBeUndefined()
    })

    test('is gone once the app is opened, where the role changed while another farm was', async () => {
      door.entry = entered(device, farm, { role: 'owner' })
      await (await notebook()).keep(name, { revenue: 5 })
      closeAll()
      const settings = await openDevice(() => device, () => {}, () => {})
      await settings.setMember(device, entered(device, farm, { role: 'crew' }).member, ana)
      settings.close()
      door.entry = { kind: 'unreachable' }
      expect((await notebook()).kept(name)).toBeUndefined()
    })
  })

  test.each([
    ['was given to somebody else', { person: 'cleo' as PersonID }],
    ['only looks on', { person: 'ana' as PersonID, role: 'viewer' as const }],
  ])('a device that %s is no longer counted on by whoever was handed it', async (_, member) => {
    const nb = await notebook()
    await nb.choosePerson(ben)
    await nb.joined(entered(device, farm, member))
    expect(nb.person.value).toBe(member.person)
  })

  test('a device that is withdrawn says so offline too, goes on to store, and sends all once it has joined again', async () => {
    shed = new ShedModel(farm, 'epoch 1', Date.now())
    const first = await notebook()
    await until(() => first.sync.value.link === 'live')
    shed.barred = 'withdrawn'
    door.entry = { kind: 'withdrawn' }
    for (const line of [...shed.lines]) line.withdraw()
    await until(() => first.barred.value === 'withdrawn')
    await first.record(visit(first, 3))
    expect(first.sync.value.link).toBe('refused')
    expect(first.sync.value.pending).toBeGreaterThan(0)
    closeAll()

    const standing = shed
    shed = undefined
    const offline = await notebook()
    expect(offline.barred.value).toBe('withdrawn')
    expect(offline.cell(offline.visitID(plant, day, 'cut'), '|0|0').total).toBe(3)
    await offline.record(visit(offline, 4))
    expect(offline.sync.value.pending).toBe(1) // one count, though of several changes
    const saved = (await offline.unsentFile()).trim().split('\n').slice(1)
    expect(operationsIn(saved)).toBe(offline.sync.value.pending)
    closeAll()

    shed = standing
    shed.barred = undefined
    door.entry = entered(device, farm)
    const again = await notebook()
    await until(() => again.sync.value.link === 'live' && again.sync.value.pending + again.sync.value.sent === 0)
    expect(again.barred.value).toBeUndefined()
    expect(shed.kept.map(({ change }) => change.value)).toContain(4)
  })

  test('a shed that does not know the device is not waited for once the device has joined', async () => {
    shed = new ShedModel(farm, 'epoch 1', Date.now())
    shed.barred = 'join'
    door.entry = { kind: 'join' }
    const first = await openDevice(() => device, () => {}, () => {})
    await first.setMember(device, entered(device, farm).member, ana)
    first.close()
    const nb = await notebook()
    await until(() => nb.barred.value === 'join')
    shed.barred = undefined
    await nb.joined(entered(device, farm))
    await until(() => nb.sync.value.link === 'live')
    expect(nb.barred.value).toBeUndefined()
  })

  test('a shed that lets everybody in is entered though its line was refused before', async () => {
    shed = new ShedModel(farm, 'epoch 1', Date.now())
    await notebook()
    closeAll()
    shed.barred = 'join'
    const { enter } = door
    door.enter = of => {
      shed!.barred = undefined
      return enter.call(door, of)
    }
    const nb = await notebook()
    await until(() => nb.sync.value.link === 'live')
  })

  test('another farm leaves the notebook of the first as it stands, and that comes back with it', async () => {
    const other = 'a0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
    const first = await notebook()
    await first.record(visit(first, 3))
    await first.joined(entered(device, other, { person: 'olga' as PersonID, name: 'Olga' }))
    expect(first.member.value?.farm).toBe(farm)
    closeAll()
    const second = await notebook()
    expect(second.farm.value.id).toBe(other)
    expect(second.person.value).toBe('olga')
    expect(second.sync.value.pending).toBe(0)
    await second.joined(entered(device, farm))
    closeAll()
    const back = await notebook()
    expect(back.farm.value.visits.size).toBe(1)
    expect(back.sync.value.pending).toBeGreaterThan(0)
  })

  test('another farm is never entered behind a person’s back', async () => {
    shed = new ShedModel(farm, 'epoch 1', Date.now())
    await notebook()
    closeAll()
    door.entry = entered(device, 'a0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2')
    const nb = await notebook()
    await until(() => door.asked.length === 2)
    await new Promise(done => setTimeout(done, 20))
    expect(nb.member.value?.farm).toBe(farm)
    closeAll()
    expect((await notebook()).farm.value.id).toBe(farm)
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
    closeAll()

    shed = new ShedModel(farm, 'epoch 1', Date.now())
    const again = await notebook()
    await until(() => again.sync.value.link === 'live' && again.sync.value.pending + again.sync.value.sent === 0)
    expect(again.sync.value.acknowledged).toBe(shed.kept.filter(({ change }) => change.rest === 0).length)
    expect(shed.kept.every(k => k.change.person === 'p1')).toBe(true)
    closeAll()

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
    expect(operationsIn(framed)).toBe(first.sync.value.pending)

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
