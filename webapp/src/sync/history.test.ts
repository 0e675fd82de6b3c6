// Confirmed history: how it lies on disk, and how a reading anew comes to be shown.

import fc from 'fast-check'
import { describe, expect, test, vi } from 'vitest'
import type { PersonID } from '../crop/nouns'
import type { Device } from '../db/device_db'
import { packAlone, Packer } from '../log/batch_pack'
import { Unpacker } from '../log/batch_unpack'
import type { Change } from '../log/change'
import { dump } from '../log/dump'
import { State } from '../log/state'
import { Book } from './book'
import { FarmNotebook } from './farm_notebook'
import { planNews, planRereading } from './history'
import { readMessage } from './messages'
import type { News } from './messages'
import { Session } from './session'
import { Disk } from './testing/phone'
import { newsMessage } from './testing/shed_line'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const incarnation = '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'
const writer = '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6'

function changeAt(seq: number): Change {
  return {
    incarnation: writer, seq, stamp: { l: 1000 + seq, c: 0 }, rest: 0, person: 'p', scope: 'field', op: 'set', type: 'bed',
    id: `b${seq % 40}`, field: 'name', value: `name ${seq}`,
  }
}

function run(from: number, n: number): Change[] {
  return Array.from({ length: n }, (_, i) => changeAt(from + i))
}

/** A phone's book with what lies on its disk, that is told changes by a shed. */
class Reader {
  readonly book: Book
  private packer = new Packer()
  private unpacker = new Unpacker()

  constructor(
    private readonly target: number,
    readonly disk = new Disk(),
    public told = 0,
  ) {
    this.book = new Book(farm, disk.contents(), incarnation)
    if (told === 0) this.store(planRereading(this.book, 'epoch', ['field'], target, 0))
  }

  store(writes: ReturnType<typeof planNews>) {
    this.disk.commit(writes)
    return this.book.apply(writes)
  }

  /** A new line, on which names begin anew. */
  reconnect(): void {
    this.packer = new Packer()
    this.unpacker = new Unpacker()
  }

  /** A frame of so many changes; as it happens, or in a catch-up. */
  hear(n: number, alone = false) {
    return this.hearOf(run(this.told + 1, n), alone)
  }

  hearOf(changes: readonly Change[], alone = true) {
    this.told += changes.length
    const batch = { changes, orders: changes.map(({ stamp }) => stamp) }
    const packed = alone ? packAlone(batch) : this.packer.pack(batch)
    const data = newsMessage(this.told, Math.max(this.told, this.target), `${writer}:${this.told}`, [packed])
    return this.store(planNews(this.book, readMessage(data, this.unpacker) as News, this.target, 0))
  }

  shown(): string {
    return dump(this.book.entities())
  }
}

function stateOf(n: number): string {
  const state = new State()
  for (const change of run(1, n)) state.merge(change, change.stamp)
  return dump(state)
}

describe('on disk', () => {
  const frame = fc.record({ n: fc.constantFrom(1, 3, 60, 150, 250), alone: fc.boolean(), reconnects: fc.boolean() })

  test('whatever frames came on whatever lines, history reads back as it was told', { timeout: 60_000 }, () => {
    fc.assert(fc.property(fc.array(frame, { maxLength: 25 }), frames => {
      const reader = new Reader(0)
      for (const { n, alone, reconnects } of frames) {
        if (reconnects) reader.reconnect()
        reader.hear(n, alone)
      }
      const again = new Book(farm, reader.disk.contents(), incarnation)
      expect(reader.shown()).toBe(stateOf(reader.told))
      expect(dump(again.entities())).toBe(stateOf(reader.told))
      expect(reader.disk.contents().chunks.reduce((sum, { count }) => sum + count, 0)).toBe(reader.told)
    }), { numRuns: 60 })
  })

  test('small news that fills a chunk is packed together', () => {
    const reader = new Reader(0)
    for (let i = 0; i < 201; i++) reader.hear(1, true)
    const [full, tail] = reader.disk.contents().chunks
    expect([full!.count, full!.batches.length, tail!.count]).toEqual([200, 1, 1])
    expect(full!.batches[0]!.length).toBeLessThan(200 * 20)
  })

  test('small news of more elements of lists than a batch may have is kept as it came', () => {
    const reader = new Reader(0)
    const list = Array.from({ length: 1000 }, (_, i) => `m${i}`)
    for (let i = 0; i < 66; i++) reader.hearOf([{ ...changeAt(i + 1), value: list }])
    reader.hear(150, true)
    const again = new Book(farm, reader.disk.contents(), incarnation)
    expect(again.reading.cursor ?? again.reading.staging).not.toBeNull()
    expect(dump(again.entities())).toBe(reader.shown())
  })

  test('small news of more text than a batch may have is kept as it came', () => {
    const reader = new Reader(0)
    const long = (i: number, part: string) => `${i} ${part} `.padEnd(8000, 'x')
    for (let i = 0; i < 80; i++) {
      const extra = Object.fromEntries([...'abcdefghijklmno'].map(part => [part, long(i, part)]))
      reader.hearOf([{ ...changeAt(i + 1), extra }])
    }
    reader.hear(300, true)
    const again = new Book(farm, reader.disk.contents(), incarnation)
    expect(again.reading.cursor ?? again.reading.staging).not.toBeNull()
    expect(dump(again.entities())).toBe(reader.shown())
  })

  test('is no larger than what came: a batch is kept without the message around it', () => {
    const reader = new Reader(0)
    reader.hear(250)
    const [chunk] = reader.disk.contents().chunks
    expect(chunk!.batches[0]!.buffer.byteLength).toBe(chunk!.batches[0]!.length)
  })
})

describe('a reading anew', () => {
  function notebookOver(reader: Reader): FarmNotebook {
    const device: Device = {
      id: 'd', farm, person: '' as PersonID, member: undefined,
      setPerson: () => Promise.resolve(), setMember: () => Promise.resolve(), close: () => {},
    }
    const session = new Session(reader.book, { device: 'd', person: () => '', newIncarnation: () => incarnation })
    return new FarmNotebook(reader.book, session, device, () => 0, () => {})
  }

  test('appears at once when it is complete, and what that takes does not grow with the farm', () => {
    const reader = new Reader(120)
    const notebook = notebookOver(reader)
    for (let i = 0; i < 5; i++) {
      notebook.applied(reader.hear(20))
      expect(notebook.farm.value.beds.size).toBe(0)
    }
    const read = vi.spyOn(reader.book, 'named')
    notebook.applied(reader.hear(20))
    expect(notebook.farm.value.beds.size).toBe(40)
    expect(read.mock.calls.length).toBeLessThanOrEqual(20)
    expect([...notebook.farm.value.beds.values()].map(({ name }) => name)).toContain('name 120')
  })

  test('goes on after a restart where it stopped, and appears at once then', () => {
    const reader = new Reader(120)
    reader.hear(100)
    const again = new Reader(120, reader.disk, 100)
    const notebook = notebookOver(again)
    expect(notebook.farm.value.beds.size).toBe(0)
    notebook.applied(again.hear(20))
    expect(notebook.farm.value.beds.size).toBe(40)
  })

  test.each([['of it', 3, 2], ['of what is shown meanwhile', 2, 1]])('is begun afresh, with nothing left of it, where something %s is damaged', (_, generation, number) => {
    const said = vi.spyOn(console, 'error').mockImplementation(() => {})
    const { disk } = readTwice()
    const { batches, ...chunk } = disk.contents().chunks.find(one => one.generation === generation && one.number === number)!
    disk.commit([{ kind: 'chunk', chunk: { ...chunk, batches: batches.map(batch => batch.slice(0, -1)) }, fresh: [] }])
    const again = new Reader(600, disk)
    expect(said).toHaveBeenCalledTimes(1)
    for (let i = 0; i < 3; i++) again.hear(200)
    expect(again.shown()).toBe(stateOf(600))
    expect(dump(new Book(farm, disk.contents(), incarnation).entities())).toBe(stateOf(600))
    expect(disk.contents().chunks.map(one => one.number)).toEqual([1, 2, 3])
    expect(said).toHaveBeenCalledTimes(1)
    said.mockRestore()
  })

  /** 600 changes were read, and then 400 of them anew. */
  function readTwice(): Reader {
    const reader = new Reader(600)
    for (let i = 0; i < 3; i++) reader.hear(200)
    const anew = new Reader(600, reader.disk)
    for (let i = 0; i < 2; i++) anew.hear(200)
    return anew
  }
})
