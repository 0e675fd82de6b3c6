// The packed batch: what is packed is read back, and nothing else is read.

import fc from 'fast-check'
import { v5 } from 'uuid'
import { describe, expect, test } from 'vitest'
import type { Batch } from './batch'
import { maxElements, maxNames, modeAlone, modeAnew, modeLinked, standsAlone } from './batch'
import { packAlone, Packer } from './batch_pack'
import { Unpacker } from './batch_unpack'
import { ByteReader, ByteWriter } from './bytes'
import { canonical, ShapeError } from './canonical'
import type { Change, Stamp, Value } from './change'
import { readColumn, writeColumn } from './column'
import { maxL } from './order'
import type { Origin } from './origin'
import { originID } from './origin'

const incarnation = '0b9f5a5e-6d0f-4f0a-8a51-1d1c2f3a4b5c'

function packed(numbers: readonly number[]): Uint8Array {
  const w = new ByteWriter()
  writeColumn(w, numbers)
  return w.finish()
}

describe('a column', () => {
  const n = fc.oneof(
    fc.integer({ min: -3, max: 300 }), fc.maxSafeInteger(),
    fc.constantFrom(Number.MAX_SAFE_INTEGER, -Number.MAX_SAFE_INTEGER, 2 ** 48, 2 ** 48 - 1, -(2 ** 47), 2 ** 52 + 1, 2 ** 24, 2 ** 24 - 1),
  )

  test('gives back any numbers, to the last byte', () => {
    fc.assert(fc.property(fc.array(n, { maxLength: 40 }), numbers => {
      const r = new ByteReader(packed(numbers))
      expect([...readColumn(r, numbers.length)]).toEqual(numbers)
      expect(r.left).toBe(0)
    }), { numRuns: 2000 })
  })

  // By hand from PROTOCOL.md, section 4.
  test.each<[string, number[], number[]]>([
    ['a number alone is plain', [7], [0x00, 14]],
    ['equal numbers take no bits', [5, 5, 5, 5], [0x00, 10]],
    ['bits fill each byte from its lowest', [3, 0, 1, 2, 3], [0x02, 0, 0b10_01_00_11, 0b11]],
    ['steady steps are differences', [10, 20, 30, 40, 50, 60], [0x40, 20, 20]],
    ['small steps are differences', [0, 3, 5, 8, 10, 13, 15, 18, 20], [0x41, 0, 4, 0b01_01_01_01]],
    ['one that is far off is raw', [0, 2 ** 50, 0], [0x80, 0, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 4, 0]],
    ['what would need a base beyond 2^53-1 is raw', [-(2 ** 53 - 1), 2 ** 53 - 1], [0x80, 0xfd, 255, 255, 255, 255, 255, 255, 31, 0xfe, 255, 255, 255, 255, 255, 255, 31]],
  ])('%s', (_, numbers, bytes) => {
    expect([...packed(numbers)]).toEqual(bytes)
    expect([...readColumn(new ByteReader(Uint8Array.from(bytes)), numbers.length)]).toEqual(numbers)
  })
})

const text = fc.oneof(
  fc.constantFrom('', 'a', 'bett', '2026-06-03', incarnation, 'A0000000-0000-4000-8000-000000000000', 'übergrün', 'x'.repeat(300)),
  fc.string({ unit: 'binary', maxLength: 5 }).map(s => s.normalize('NFC')).filter(s => !/[\u0000\uFFFD]|\p{Surrogate}/u.test(s)),
)
const name = text.filter(s => s !== '' && s.length <= 128)
const value: fc.Arbitrary<Value> = fc.oneof(fc.maxSafeInteger(), text, fc.array(name, { maxLength: 3 }))
const stamp: fc.Arbitrary<Stamp> = fc.record({ l: fc.integer({ min: 0, max: maxL }), c: fc.integer({ min: 0, max: 65_535 }) })
const extra = fc.dictionary(fc.constantFrom('saw', 'after', 'former', 'z', 'a_b'), value, { minKeys: 1, maxKeys: 3, noNullPrototype: true })
const change: fc.Arbitrary<Change> = fc.record({
  incarnation: fc.constantFrom(incarnation, '5c1d7e90-2b3c-4d5e-8f60-718293a4b5c6'),
  seq: fc.integer({ min: 1, max: Number.MAX_SAFE_INTEGER }), stamp, rest: fc.integer({ min: 0, max: 31_999 }),
  person: name, scope: fc.constantFrom<Change['scope']>('field', 'shed', 'money'), op: name, type: name, id: name, field: name, value,
})
const origin: fc.Arbitrary<Origin> = fc.record({
  namespace: fc.constantFrom(incarnation, 'no UUID'), person: fc.oneof(name, fc.constant('')), subject: name,
  recorded: fc.constant('2026-06-03'), purpose: fc.constantFrom('cut', 'standing'),
})
/** A change with extra parts, an order and an id that is derived, or also from the id before. */
const entry = fc.record({
  change, extra: fc.option(extra), order: fc.option(stamp), origin: fc.option(origin, { freq: 1 }), ofBefore: fc.boolean(),
})

const batch: fc.Arbitrary<Batch> = fc.tuple(fc.array(entry, { maxLength: 8 }), fc.boolean()).map(([entries, ordered]) => {
  const origins = new Map<string, Origin>()
  const changes: Change[] = []
  for (const { change, extra, origin, ofBefore } of entries) {
    const from = origin && ofBefore && changes.length > 0 ? { ...origin, subject: changes.at(-1)!.id } : origin
    const id = (from && originID(from)) ?? change.id
    if (from) origins.set(id, from)
    changes.push({ ...change, id, ...(extra && { extra }) })
  }
  return { changes, origins, ...(ordered && { orders: entries.map(e => e.order) }) }
})

function expectSame(got: Batch, want: Batch): void {
  expect(got.changes.map(canonical)).toEqual(want.changes.map(canonical))
  const orders = want.orders?.some(order => order !== null) ? want.orders : undefined
  expect(got.orders).toEqual(orders)
  for (const [id, from] of got.origins ?? []) expect(originID(from)).toBe(id)
}

describe('a batch', () => {
  test('is read back as it was packed, linked and alone', () => {
    fc.assert(fc.property(fc.array(fc.tuple(batch, fc.boolean()), { maxLength: 4 }), batches => {
      const packer = new Packer()
      const unpacker = new Unpacker()
      for (const [one, alone] of batches) {
        const data = alone ? packAlone(one) : packer.pack(one)
        expect(standsAlone(data)).toBe(alone)
        expectSame(unpacker.read(data), one)
      }
    }), { numRuns: 300 })
  })

  test('with any byte changed is read as a batch or refused as a shape, and nothing else', () => {
    fc.assert(fc.property(batch, fc.nat(), fc.integer({ min: 1, max: 255 }), (one, at, by) => {
      const data = packAlone(one)
      data[at % data.length]! ^= by
      expectShape(() => new Unpacker().read(data), false)
    }), { numRuns: 1000 })
  })

  const whole = packAlone(walk(30, 1))

  test('that is cut short anywhere, or goes on, is refused', () => {
    for (let cut = 0; cut < whole.length; cut++) expectShape(() => new Unpacker().read(whole.subarray(0, cut)))
    expectShape(() => new Unpacker().read(Uint8Array.of(...whole, 0)))
  })

  test.each<[string, number[]]>([
    ['an unknown mode', [9, 0, 0, 0, 0]],
    ['2,001 changes', [modeAlone, 0xd1, 0x0f, 0, 0, 0]],
    ['a text that is not UTF-8', [modeAlone, 0, 1, 1, 0xff, 0, 0]],
    ['a name that was not given', [modeAlone, 1, 0, 0, 0, 0x00, 0x02]],
    ['a column of an unknown form', [modeAlone, 1, 0, 0, 0, 0xc0, 0x00]],
    ['packed numbers of 49 bits', [modeAlone, 1, 0, 0, 0, 49, 0, 0, 0, 0, 0, 0, 0, 0]],
    ['an id derived in no namespace', [modeAlone, 0, 1, 1, 97, 0, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0]],
    ['a number of more than ten bytes', [modeAlone, ...Array<number>(11).fill(0x80), 0]],
  ])('with %s is refused', (_, bytes) => expectShape(() => new Unpacker().read(Uint8Array.from(bytes))))

  test('is refused where a change of it could not be kept', () => {
    const [good] = walk(1, 1).changes
    for (const bad of [
      { ...good!, incarnation: 'x' }, { ...good!, field: 'x'.repeat(129) }, { ...good!, value: 'e\u0301' }, { ...good!, seq: 0 },
      { ...good!, scope: 'attic' as Change['scope'] }, { ...good!, value: [''] }, { ...good!, rest: 32_000 }, { ...good!, extra: { A: 1 } },
    ]) expectShape(() => new Unpacker().read(packAlone({ changes: [bad] })))
  })

  test('is refused where a few bytes would grow into very many elements', () => {
    const { changes: [one] } = walk(1, 1)
    const changes = Array.from({ length: maxElements / 1000 + 1 }, () => ({ ...one!, value: Array<string>(1000).fill('a') }))
    expectShape(() => new Unpacker().read(packAlone({ changes })))
  })

  test('begins anew before the names grow too many', { timeout: 60_000 }, () => {
    const packer = new Packer()
    const unpacker = new Unpacker()
    const { changes: [one] } = walk(1, 1)
    const modes: number[] = []
    for (let frame = 0; 60_000 * frame <= maxNames; frame++) {
      const lists = Array.from({ length: 60 }, (_, i) => Array.from({ length: 1000 }, (_, j) => `${frame} ${i} ${j}`))
      const data = packer.pack({ changes: lists.map(value => ({ ...one!, value })) })
      modes.push(data[0]!)
      expect(unpacker.read(data).changes[59]!.value).toEqual(lists[59])
    }
    expect(modes).toEqual([modeAnew, modeLinked, modeLinked, modeLinked, modeAnew])
  })
})

/** What is thrown is a ShapeError; where nothing may pass, something is. */
function expectShape(work: () => unknown, must = true): void {
  try {
    work()
  } catch (error) {
    expect(error).toBeInstanceOf(ShapeError)
    return
  }
  expect(must).toBe(false)
}

/**
 * Counts as a walk makes them: of random plants, one for 50 counts, on random days, in visits whose ids
 * are derived.
 */
function walk(n: number, seed: number): Batch {
  let state = seed
  const random = (below: number) => Math.floor(((state = (state * 48271) % 2147483647) / 2147483647) * below)
  const plants = Array.from({ length: Math.ceil(n / 50) }, (_, i) => v5(`plant ${i}`, incarnation))
  const origins = new Map<string, Origin>()
  let l = 1_780_000_000_000
  const changes = Array.from({ length: n }, (_, i): Change => {
    l += 200 + random(2800)
    const recorded = `2026-0${5 + random(2)}-${10 + random(20)}`
    const from: Origin = { namespace: incarnation, person: 'ana', subject: plants[random(plants.length)]!, recorded, purpose: 'cut' }
    const id = originID(from)!
    origins.set(id, from)
    const lo = 200 + 100 * random(7)
    const field = `${['extra', 'first', 'second', 'out'][random(4)]!}|${lo}|${lo + 100}`
    return {
      incarnation, seq: i + 1, stamp: { l, c: 0 }, rest: 0, person: 'ana', scope: 'field', op: 'count', type: 'visit', id, field,
      value: 1 + random(9),
    }
  })
  return { changes, origins }
}

test('counts as a walk makes them take at most 6 bytes each in frames of 2,000', () => {
  const { changes, origins } = walk(20_000, 7)
  const packer = new Packer()
  // The measure; eight bytes stand for each frame's websocket header (RFC 6455, section 5.2).
  let bytes = 0
  for (let at = 0; at < changes.length; at += 2000) {
    bytes += 8 + packer.pack({ changes: changes.slice(at, at + 2000), origins: origins! }).length
  }
  expect(bytes / changes.length).toBeLessThanOrEqual(6)
})

test('a derived id is the UUID of version 5 that another implementation makes', () => {
  fc.assert(fc.property(origin, from => {
    const id = originID(from)
    const text = [from.person, from.subject, from.recorded, from.purpose].join('\n')
    expect(id).toBe(from.namespace === incarnation ? v5(text, incarnation) : undefined)
  }))
})
