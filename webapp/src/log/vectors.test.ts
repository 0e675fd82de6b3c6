// The vectors that Go and TypeScript both run. A file that neither knows fails both.

import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js'
import { describe, expect, test } from 'vitest'
import { parseCell, visitIDOf } from '../crop/cells'
import type { Calendar, Day, PersonID, PlantID, Purpose, Season } from '../crop/nouns'
import { seasonOf, span } from '../crop/season'
import type { Batch } from './batch'
import { packAlone, Packer } from './batch_pack'
import { Unpacker } from './batch_unpack'
import { canonical, changeOf, readChange } from './canonical'
import { chainAfter, chainStart } from './chain'
import type { Change, Stamp } from './change'
import { check } from './check'
import { noStamp, orderFor, receive, tick } from './clock'
import { count } from './count'
import { dump } from './dump'
import { looks } from './look'
import type { Origin } from './origin'
import { members, text } from './read'
import { State } from './state'

const folder = join(import.meta.dirname, '../../../testdata/vectors')
const known = ['ahead.json', 'batch.json', 'canonical.json', 'card.json', 'classes.json', 'clock.json', 'codes.json', 'colour.json', 'commission.json', 'delivered.json', 'discount.json', 'forecast_draws.json', 'invalid.json', 'merge.json', 'money.json', 'names.json', 'payments.json', 'plan.json', 'random.json', 'sales.json', 'seasons.json', 'tax.json', 'weather.json']

type Pair = readonly [number, number]
const stamp = ([l, c]: Pair): Stamp => ({ l, c })
const pair = ({ l, c }: Stamp): Pair => [l, c]

function read<T>(file: string): T {
  return JSON.parse(readFileSync(join(folder, file), 'utf8')) as T
}

test('every vector file is one that is run here', () => {
  expect(readdirSync(folder).sort()).toEqual(known)
})

interface Canonical {
  cases: { name: string; farm: string; change: Change & Stamp; bytes: string; chain: string }[]
}

describe('canonical bytes and chain', () => {
  for (const { name, farm, change, bytes, chain } of read<Canonical>('canonical.json').cases) {
    test(name, () => {
      const { l, c, ...parts } = change
      const made: Change = { ...parts, stamp: { l, c } }
      expect(canonical(made)).toBe(bytes)
      expect(check(made)).toBeUndefined()
      expect(canonical(readChange(bytes))).toBe(bytes)
      expect(chainAfter(chainStart(farm, made.incarnation), [bytes])).toBe(chain)
    })
  }
})

describe('texts that are refused', () => {
  for (const { name, text } of read<{ cases: { name: string; text: string; why: string }[] }>('invalid.json').cases) {
    test(name, () => expect(() => mustKeep(text)).toThrow())
  }
})

function mustKeep(text: string): void {
  const why = check(readChange(text))
  if (why) throw new Error(why)
}

interface PackedVector {
  hex: string
  changes: string[]
  orders?: (Pair | null)[]
  origins?: Record<string, Origin>
}

function batchOf({ changes, orders, origins }: PackedVector): Batch {
  return {
    changes: changes.map(readChange),
    ...(orders && { orders: orders.map(order => order && stamp(order)) }),
    origins: new Map(Object.entries(origins ?? {})),
  }
}

describe('batches', () => {
  const { streams } = read<{ streams: { name: string; alone: boolean; batches: PackedVector[] }[] }>('batch.json')
  for (const { name, alone, batches } of streams) {
    test(name, () => {
      const packer = new Packer()
      const unpacker = new Unpacker()
      for (const vector of batches) {
        const batch = batchOf(vector)
        expect(bytesToHex(alone ? packAlone(batch) : packer.pack(batch))).toBe(vector.hex)
        const got = unpacker.read(hexToBytes(vector.hex))
        expect(got.changes.map(canonical)).toEqual(vector.changes)
        expect(got.orders?.map(order => order && pair(order)) ?? []).toEqual(vector.orders ?? [])
        for (const [id, origin] of got.origins ?? []) expect(origin).toEqual(vector.origins![id])
      }
    })
  }
})

interface Clocks {
  ticks: { name: string; steps: { tick?: number; receive?: number; l?: number; c?: number }[]; want: Pair[] }[]
  orders: { name: string; stamp: Pair; wall: number; highest: Pair; want: Pair }[]
}

describe('clock', () => {
  for (const { name, steps, want } of read<Clocks>('clock.json').ticks) {
    test(name, () => {
      let last = noStamp
      const got = steps.map(step => {
        last = step.tick !== undefined ? tick(last, step.tick) : receive(last, step.receive!, { l: step.l!, c: step.c! })
        return pair(last)
      })
      expect(got).toEqual(want)
    })
  }
  for (const { name, stamp: made, wall, highest, want } of read<Clocks>('clock.json').orders) {
    test(`order: ${name}`, () => expect(pair(orderFor(stamp(made), wall, stamp(highest)))).toEqual(want))
  }
})

interface Ordered {
  change: unknown[]
  order: Pair
}
interface Merge {
  cases: {
    name: string
    changes: Ordered[]
    want: {
      totals: [string, string, string, number][]
      /** Type, id, cell, then the identities. */
      tips?: [string, string, string, ...string[]][]
      texts: [string, string, string, string][]
      members: [string, string, string, string[]][]
      looks: [string, string, string, string][]
      dump_sha256: string
    }
  }[]
}

function stateOf(changes: readonly Ordered[]): State {
  const state = new State()
  for (const { change, order } of changes) state.merge(changeOf(change), stamp(order))
  return state
}

function hashOf(state: State): string {
  return bytesToHex(sha256(utf8ToBytes(dump(state))))
}

describe('merge', () => {
  for (const { name, changes, want } of read<Merge>('merge.json').cases) {
    test(name, () => {
      const state = stateOf(changes)
      for (const [type, id, cell, total] of want.totals) expect(count(state.entity(type, id)!, cell).total).toBe(total)
      for (const [type, id, cell, ...tips] of want.tips ?? []) expect(count(state.entity(type, id)!, cell).tips).toEqual(tips)
      for (const [type, id, field, value] of want.texts) expect(text(state.entity(type, id)!, field)).toBe(value)
      for (const [type, id, field, list] of want.members) expect(members(state.entity(type, id)!, field)).toEqual(list)
      expect(looks(state).map(l => [l.kind, l.type, l.id, l.field])).toEqual(want.looks)
      expect(hashOf(state)).toBe(want.dump_sha256)
    })
  }
  test('many random changes', () => {
    const { changes, dump_sha256 } = read<{ changes: Ordered[]; dump_sha256: string }>('random.json')
    expect(hashOf(stateOf(changes))).toBe(dump_sha256)
  })
})

interface Names {
  visit_ids: { incarnation: string; person: string; subject: string; recorded: string; purpose: string; want: string }[]
  cells: { name: string; of_bed: boolean; colour: string; grade: string; lo: number; hi: number }[]
  bad_cells: string[]
}

describe('names', () => {
  const names = read<Names>('names.json')
  for (const v of names.visit_ids) {
    test(`visit id ${v.want}`, () => {
      const got = visitIDOf(v.incarnation, v.person as PersonID, v.subject as PlantID, v.recorded as Day, v.purpose as Purpose)
      expect(got).toBe(v.want)
    })
  }
  for (const { name, of_bed, colour, grade, lo, hi } of names.cells) {
    test(`cell ${name}`, () => expect(parseCell(name)).toEqual({ ofBed: of_bed, colour, grade, length: { lo, hi } }))
  }
  for (const name of names.bad_cells) {
    test(`no cell: "${name}"`, () => expect(parseCell(name)).toBeUndefined())
  }
})

interface Seasons {
  cases: (Calendar & { day: Day; season: number })[]
  spans: (Calendar & { season: Season; from: string; to: string })[]
}

describe('seasons', () => {
  const { cases, spans } = read<Seasons>('seasons.json')
  for (const { start, southern, day, season } of cases) {
    test(`${day} where seasons start on ${start}${southern ? ' in the south' : ''}`, () =>
      expect(seasonOf({ start, southern }, day)).toBe(season))
  }
  for (const { start, southern, season, from, to } of spans) {
    test(`span of ${season} from ${start}${southern ? ' in the south' : ''}`, () =>
      expect(span({ start, southern }, season)).toEqual({ from, to }))
  }
})
