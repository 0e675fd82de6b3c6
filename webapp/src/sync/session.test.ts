// The session machine against a small shed, cut at any message.

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Fact } from '../log/change'
import { count, ownCount } from '../log/count'
import { dump } from '../log/dump'
import { statusOf } from './status'
import { heal, Phone } from './testing/phone'
import { ShedModel } from './testing/shed_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const start = 1_780_000_000_000
/** Many random runs, on a machine that may be busy. */
const slow = { timeout: 60_000 }

function stems(visit: string, cell: string, value: number): Fact {
  return { scope: 'field', op: 'count', type: 'visit', id: visit, field: cell, value }
}

function name(bed: string, value: string): Fact {
  return { scope: 'field', op: 'set', type: 'bed', id: bed, field: 'name', value }
}

function world(phones: number, skews: readonly number[] = []) {
  const shed = new ShedModel(farm, 'epoch 1', start)
  const time = { now: 0 }
  const made = Array.from({ length: phones }, (_, i) => new Phone(`p${i}`, shed, time, skews[i] ?? 0))
  return { shed, time, phones: made, heal: () => heal(made, time, shed) }
}

function total(phone: Phone, visit: string, cell: string): number {
  const entity = phone.book.entity('visit', visit)
  return entity ? count(entity, cell).total : 0
}

function expectEqual(shed: ShedModel, phones: readonly Phone[]): void {
  const want = dump(shed.state())
  for (const phone of phones) {
    expect(statusOf(phone.book, phone.session)).toMatchObject({ link: 'live', pending: 0, sent: 0 })
    expect(dump(phone.book.entities())).toBe(want)
  }
}

describe('a shed that does not let a phone in', () => {
  test.each(['join', 'withdrawn'] as const)('%s: keeps everything, and comes again much later or when a person asks', code => {
    const { shed, time, phones } = world(1)
    const phone = phones[0]!
    shed.barred = code
    phone.record(stems('v1', '|0|0', 3))
    phone.happen({ kind: 'tick' })
    while (phone.carryUp() || phone.carryDown());
    expect(phone.session).toMatchObject({ link: 'refused', refusal: code })
    expect(phone.session.nextTick()).toBe(time.now + 300_000)
    phone.happen({ kind: 'wake' })
    phone.record(stems('v1', '|0|0', 4))
    expect(shed.hellos).toBe(1)

    shed.barred = undefined
    phone.happen({ kind: 'wake', insist: true })
    heal(phones, time, shed)
    expectEqual(shed, phones)
    expect(total(phone, 'v1', '|0|0')).toBe(4)
    expect(shed.kept).toHaveLength(1)
  })
})

describe('two phones and a shed', () => {
  test('converge and add up', () => {
    const { shed, phones, heal } = world(2)
    phones[0]!.record(stems('v1', '|0|0', 3), name('b1', 'North'))
    phones[1]!.record(stems('v1', '|0|0', 4))
    heal()
    expectEqual(shed, phones)
    expect(total(phones[0]!, 'v1', '|0|0')).toBe(7)
  })

  test('a hundred taps travel as one change', () => {
    const { shed, phones, heal } = world(1)
    for (let n = 1; n <= 100; n++) phones[0]!.record(stems('v1', '|0|0', n))
    heal()
    expect(shed.kept.map(k => k.change.value)).toEqual([100])
    expect(shed.kept[0]!.change.seq).toBe(1)
  })

  test('a lost acknowledgement doubles nothing, and the order comes with the catch-up', () => {
    const { shed, phones, time, heal } = world(1)
    const phone = phones[0]!
    heal()
    phone.record(stems('v1', '|0|0', 5))
    time.now += 400
    phone.happen({ kind: 'tick' })
    while (phone.carryUp());
    phone.cut()
    expect(shed.kept).toHaveLength(1)
    heal()
    expectEqual(shed, phones)
    expect(shed.kept).toHaveLength(1)
  })

  test('a refused change leaves the state and stays in the log', () => {
    const { shed, phones, heal } = world(1)
    shed.refuses = c => (c.value === 1000 ? 'count' : undefined)
    phones[0]!.record(stems('v1', '|0|0', 3))
    heal()
    phones[0]!.record(stems('v1', '|0|0', 1000), name('b1', 'North'))
    heal()
    expect(total(phones[0]!, 'v1', '|0|0')).toBe(3)
    expect(statusOf(phones[0]!.book, phones[0]!.session).refused.map(r => [r.seq, r.code])).toEqual([[2, 'count'], [3, 'operation']])
    expectEqual(shed, phones)
    phones[0]!.start()
    expect(total(phones[0]!, 'v1', '|0|0')).toBe(3)
    expect(statusOf(phones[0]!.book, phones[0]!.session).refused).toHaveLength(2)
  })

  test('a shed that is busy is asked again with no new record', () => {
    const { shed, phones, heal, time } = world(1)
    shed.busy = true
    phones[0]!.record(stems('v1', '|0|0', 3))
    for (let i = 0; i < 50; i++) {
      time.now += 1000
      phones[0]!.happen({ kind: 'tick' })
      while (phones[0]!.carryUp() || phones[0]!.carryDown());
    }
    expect(shed.kept).toHaveLength(0)
    shed.busy = false
    heal()
    expectEqual(shed, phones)
  })
})

describe('time', () => {
  test('a silent line is asked after 10 s and given up after another 10 s', () => {
    const { phones, time, heal } = world(1)
    const phone = phones[0]!
    heal()
    const heard = time.now
    time.now = phone.session.nextTick()!
    expect(time.now - heard).toBeLessThanOrEqual(10_000)
    expect(phone.session.handle({ kind: 'tick' }, { now: time.now, wall: start })).toEqual([{ kind: 'send', data: '{"t":"ping"}' }])
    time.now += 9_999
    expect(phone.session.handle({ kind: 'tick' }, { now: time.now, wall: start })).toEqual([])
    time.now += 1
    expect(phone.session.handle({ kind: 'tick' }, { now: time.now, wall: start })).toEqual([{ kind: 'close' }])
    expect(phone.session.link).toBe('offline')
  })

  test('waits 1, 2, 4 ... 30 s between attempts, and not at all when woken', () => {
    const { phones } = world(1)
    const { session } = phones[0]!
    let now = 0
    const waits: number[] = []
    for (let i = 0; i < 7; i++) {
      expect(session.handle({ kind: 'tick' }, { now, wall: start })).toEqual([{ kind: 'connect' }])
      session.handle({ kind: 'closed' }, { now, wall: start })
      waits.push(session.nextTick()! - now)
      now = session.nextTick()!
    }
    expect(waits).toEqual([1000, 2000, 4000, 8000, 16000, 30000, 30000])
    session.handle({ kind: 'tick' }, { now, wall: start })
    session.handle({ kind: 'closed' }, { now, wall: start })
    expect(session.handle({ kind: 'wake' }, { now, wall: start })).toEqual([{ kind: 'connect' }])
  })
})

describe('a past that cannot be proven', () => {
  test('a cloned phone takes a new incarnation, and both counts stand', () => {
    const { shed, phones, time } = world(1)
    const phone = phones[0]!
    phone.record(stems('v1', '|0|0', 1))
    heal(phones, time, shed)
    const clone = new Phone('clone', shed, time, 0, phone.disk.copy())
    const before = phone.book.pen.incarnation
    phone.record(stems('v2', '|0|0', 2))
    heal([phone], time, shed)
    clone.record(stems('v3', '|0|0', 3))
    heal([phone, clone], time, shed)
    expect(clone.book.pen.incarnation).not.toBe(before)
    expectEqual(shed, [phone, clone])
    expect(['v1', 'v2', 'v3'].map(v => total(clone, v, '|0|0'))).toEqual([1, 2, 3])
  })

  test('a cell counted further after the clone replaces the former count and adds nothing', () => {
    const { shed, phones, time } = world(1)
    const phone = phones[0]!
    phone.record(stems('v1', '|0|0', 3))
    heal(phones, time, shed)
    const clone = new Phone('clone', shed, time, 0, phone.disk.copy())
    phone.record(stems('v2', '|0|0', 2))
    heal([phone], time, shed)
    clone.record(stems('v1', '|0|0', 4))
    heal([phone, clone], time, shed)
    expectEqual(shed, [phone, clone])
    expect(total(clone, 'v1', '|0|0')).toBe(4)
  })

  test('a phone whose storage went back in time sends what the shed lacks, and settles what it holds', () => {
    const { shed, phones, time } = world(1)
    const phone = phones[0]!
    phone.record(stems('v1', '|0|0', 1))
    heal(phones, time, shed)
    phone.record(stems('v2', '|0|0', 2))
    time.now += 400
    phone.happen({ kind: 'tick' }) // framed and sent, not acknowledged
    const old = phone.disk.copy()
    heal(phones, time, shed)
    phone.record(stems('v3', '|0|0', 3))
    heal(phones, time, shed)
    const restored = new Phone('restored', shed, time, 0, old)
    heal([restored], time, shed)
    expectEqual(shed, [restored])
    expect(['v1', 'v2', 'v3'].map(v => total(restored, v, '|0|0'))).toEqual([1, 2, 3])
    expect(shed.kept).toHaveLength(3)
    restored.start()
    heal([restored], time, shed)
    expectEqual(shed, [restored])
  })

  test('a restored shed is filled from the phones, with the old orders', () => {
    const { shed, phones, heal } = world(2)
    for (let n = 1; n <= 5; n++) {
      phones[0]!.record(stems(`v${n}`, '|0|0', n))
      heal()
    }
    const before = dump(shed.state())
    shed.wall += 86_400_000
    shed.restore(2, 'epoch 2')
    heal()
    expectEqual(shed, phones)
    expect(dump(shed.state())).toBe(before)
  })
})

type Step =
  | { do: 'count'; phone: number; visit: number; value: number }
  | { do: 'name'; phone: number; bed: number; value: number }
  | { do: 'up' | 'down' | 'cut' | 'kill'; phone: number }
  | { do: 'wait'; ms: number }

const phoneCount = 3
const phone = fc.integer({ min: 0, max: phoneCount - 1 })
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 4, arbitrary: fc.record({ do: fc.constant('count' as const), phone, visit: fc.integer({ min: 1, max: 4 }), value: fc.integer({ min: 0, max: 20 }) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant('name' as const), phone, bed: fc.integer({ min: 1, max: 2 }), value: fc.integer({ min: 0, max: 9 }) }) },
  { weight: 8, arbitrary: fc.record({ do: fc.constantFrom('up' as const, 'down' as const), phone }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constantFrom('cut' as const, 'kill' as const), phone }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('wait' as const), ms: fc.integer({ min: 1, max: 3000 }) }) },
)

describe('whatever the wire does', () => {
  test('every phone ends with the state of the shed; nothing is doubled or lost', slow, () => {
    const skews = fc.tuple(...Array.from({ length: phoneCount }, () => fc.constantFrom(0, -3_600_000, 7_200_000, 1e12)))
    fc.assert(fc.property(fc.array(step, { maxLength: 80 }), skews, (steps, skews) => {
      const { shed, phones, time, heal } = world(phoneCount, skews)
      const counted = new Map<string, number>()
      for (const s of steps) run(s, phones, shed, time, counted)
      heal()
      expectEqual(shed, phones)
      const kept = shed.kept.map(({ change }) => `${change.incarnation}:${change.seq}`)
      expect(new Set(kept).size).toBe(kept.length)
      for (const [cell, value] of counted) {
        const [who, visit] = cell.split(' ') as [string, string]
        const { incarnation } = phones[Number(who)]!.book.pen
        const entity = phones[0]!.book.entity('visit', visit)!
        expect(ownCount(entity, '|0|0', incarnation)).toBe(value)
      }
    }), { numRuns: 150 })
  })
})

/** Counts on as a tap does: from what this phone has counted so far. */
function tap(phone: Phone, visit: string): void {
  const entity = phone.book.entity('visit', visit)
  const own = entity ? ownCount(entity, '|0|0', phone.book.pen.incarnation) : 0
  phone.record(stems(visit, '|0|0', own + 1))
}

/**
 * Every phone greets the shed again: two copies of one phone that are connected at a time are not
 * told of each other before that.
 */
function meetAnew(phones: readonly Phone[], time: { now: number }, shed: ShedModel): void {
  for (let i = 0; i <= phones.length; i++) {
    heal(phones, time, shed)
    for (const phone of phones) {
      phone.cut()
      phone.happen({ kind: 'wake', insist: true })
    }
  }
  heal(phones, time, shed)
}

const calamity = fc.oneof(
  { weight: 6, arbitrary: fc.record({ do: fc.constant('tap' as const), who: fc.nat(), visit: fc.integer({ min: 1, max: 2 }) }) },
  { weight: 8, arbitrary: fc.record({ do: fc.constantFrom('up' as const, 'down' as const, 'wait' as const), who: fc.nat() }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constantFrom('cut' as const, 'kill' as const, 'clone' as const, 'save' as const, 'restore' as const), who: fc.nat() }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('heal' as const), who: fc.nat() }) },
)

describe('whatever happens to a phone', () => {
  test('clones, phones set back in time and restored sheds lose and double no tap that was sent', slow, () => {
    fc.assert(fc.property(fc.array(calamity, { maxLength: 60 }), steps => {
      const { shed, phones, time } = world(2)
      const taps = new Map<string, number>()
      const saved = new Map<Phone, Phone['disk']>()
      for (const s of steps) {
        const phone = phones[s.who % phones.length]!
        if (s.do === 'tap') {
          const visit = `${phone.name} v${s.visit}`
          tap(phone, visit)
          taps.set(visit, (taps.get(visit) ?? 0) + 1)
        }
        if (s.do === 'up') phone.carryUp()
        if (s.do === 'down') phone.carryDown()
        if (s.do === 'cut') phone.cut()
        if (s.do === 'kill') phone.start()
        if (s.do === 'wait') for (const p of phones) (time.now += 400), p.happen({ kind: 'tick' })
        if (s.do === 'heal') heal(phones, time, shed)
        if (s.do === 'clone' && phones.length < 4) phones.push(new Phone(`p${phones.length}`, shed, time, 0, phone.disk.copy()))
        if (s.do === 'restore') shed.restore(s.who % (shed.kept.length + 1), `${shed.epoch}+`)
        if (s.do === 'save') saved.set(phone, phone.disk.copy())
      }
      meetAnew(phones, time, shed)
      for (const [phone, disk] of saved) {
        phone.cut()
        phones[phones.indexOf(phone)] = new Phone(phone.name, shed, time, 0, disk)
      }
      meetAnew(phones, time, shed)
      for (const phone of phones) for (const visit of taps.keys()) {
        if (!visit.startsWith(phone.name)) continue
        tap(phone, visit)
        taps.set(visit, taps.get(visit)! + 1)
      }
      meetAnew(phones, time, shed)
      expectEqual(shed, phones)
      for (const [visit, count] of taps) expect(total(phones[0]!, visit, '|0|0')).toBe(count)
    }), { numRuns: 150 })
  })

  test('a shed restored from any backup is filled again, and keeps the old orders', slow, () => {
    fc.assert(fc.property(fc.array(step, { maxLength: 60 }), fc.nat(), fc.array(step, { maxLength: 30 }), (before, backup, after) => {
      const { shed, phones, time, heal } = world(phoneCount)
      const counted = new Map<string, number>()
      for (const s of before) run(s, phones, shed, time, counted)
      heal()
      const kept = dump(shed.state())
      shed.restore(shed.kept.length === 0 ? 0 : backup % shed.kept.length, 'epoch 2')
      for (const s of after) if (s.do !== 'count' && s.do !== 'name') run(s, phones, shed, time, counted)
      heal()
      expectEqual(shed, phones)
      expect(dump(shed.state())).toBe(kept)
    }), { numRuns: 100 })
  })
})

function run(s: Step, phones: readonly Phone[], shed: ShedModel, time: { now: number }, counted: Map<string, number>): void {
  if (s.do === 'wait') {
    time.now += s.ms
    shed.wall += s.ms
    for (const p of phones) p.happen({ kind: 'tick' })
    return
  }
  const phone = phones[s.phone]!
  if (s.do === 'count') {
    phone.record(stems(`v${s.visit}`, '|0|0', s.value))
    counted.set(`${s.phone} v${s.visit}`, s.value)
  }
  if (s.do === 'name') phone.record(name(`b${s.bed}`, `name ${s.value}`))
  if (s.do === 'up') phone.carryUp()
  if (s.do === 'down') phone.carryDown()
  if (s.do === 'cut') phone.cut()
  if (s.do === 'kill') phone.start()
}
