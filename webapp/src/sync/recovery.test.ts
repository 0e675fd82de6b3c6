// What goes wrong on the way, one thing at a time: each test fails without the guard that it names.

import { describe, expect, test } from 'vitest'
import type { Change, Fact } from '../log/change'
import { count } from '../log/count'
import { dump } from '../log/dump'
import { looksOf } from '../log/look'
import { statusOf } from './status'
import { heal, Phone } from './testing/phone'
import { ShedModel } from './testing/shed_model'
import { unsentText } from './unsent'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const start = 1_780_000_000_000

function stems(visit: string, value: number): Fact {
  return { scope: 'field', op: 'count', type: 'visit', id: visit, field: '|0|0', value }
}

function codes(n: number): Fact[] {
  return Array.from({ length: n }, (_, i) => ({ scope: 'field', op: 'set', type: 'plant', id: `k${i}`, field: 'code', value: `R${i}` }))
}

function world(phones: number, skew = 0) {
  const shed = new ShedModel(farm, 'epoch 1', start)
  const time = { now: 0 }
  return { shed, time, phones: Array.from({ length: phones }, (_, i) => new Phone(`p${i}`, shed, time, skew)) }
}

/** Lets drafts become ripe, so that they are framed and sent. */
function ripen(phone: Phone, time: { now: number }): void {
  time.now += 400
  phone.happen({ kind: 'tick' })
}

function wait(phones: readonly Phone[], shed: ShedModel, time: { now: number }, seconds: number): void {
  for (let i = 0; i < seconds; i++) {
    for (const phone of phones) while (phone.carryUp() || phone.carryDown());
    time.now += 1000
    shed.wall += 1000
    for (const phone of phones) phone.happen({ kind: 'tick' })
  }
}

function expectEqual(shed: ShedModel, phones: readonly Phone[]): void {
  for (const phone of phones) {
    expect(statusOf(phone.book, phone.session)).toMatchObject({ link: 'live', pending: 0, sent: 0 })
    expect(dump(phone.book.entities())).toBe(dump(shed.state()))
  }
}

function identities(changes: readonly { change: Change }[]): string[] {
  return changes.map(({ change }) => `${change.incarnation}:${change.seq}`)
}

describe('an acknowledgement that was lost', () => {
  test('is made up for by the welcome, which tells the order that was given', () => {
    const { shed, time, phones: [phone] } = world(1, 7_200_000) // the phone's clock is two hours ahead
    heal([phone!], time, shed)
    phone!.record(stems('v1', 5))
    ripen(phone!, time)
    while (phone!.carryUp());
    phone!.cut()
    const { change, order } = shed.kept[0]!
    expect(order).not.toEqual(change.stamp)
    wait([], shed, time, 2)
    phone!.happen({ kind: 'wake' })
    phone!.carryUp()
    phone!.carryDown() // the welcome, and nothing after it
    expect(phone!.book.own.holding(change.incarnation, 1)!.operation.orders).toEqual([order])
    expect(dump(phone!.book.entities())).toBe(dump(shed.state()))
  })

  test('is made up for a stretch at a time where there was very much', () => {
    const { shed, time, phones: [phone] } = world(1, 7_200_000)
    shed.mostTold = 2
    heal([phone!], time, shed)
    for (let i = 0; i < 7; i++) phone!.record(stems(`v${i}`, i))
    ripen(phone!, time)
    while (phone!.carryUp());
    phone!.cut()
    heal([phone!], time, shed)
    const { incarnation, settled } = phone!.book.pen
    const orders = phone!.book.own.beyond(incarnation, 0).flatMap(({ operation }) => operation.orders)
    expect([settled, orders]).toEqual([7, shed.kept.map(({ order }) => order)])
    expectEqual(shed, [phone!])
  })

  test('of what was kept under its stamp needs no word at all', () => {
    const { shed, time, phones: [phone] } = world(1)
    heal([phone!], time, shed)
    phone!.record(stems('v1', 5))
    heal([phone!], time, shed)
    const { change } = shed.kept[0]!
    expect(shed.outcome(change.incarnation, 0)).toEqual({ orders: [], held: [], refused: [] })
    expect(phone!.book.own.holding(change.incarnation, 1)!.operation.orders).toEqual([change.stamp])
  })
})

test('a change that the shed holds under another identity stays in the log and counts nowhere', () => {
  const { shed, time, phones: [phone] } = world(1)
  heal([phone!], time, shed)
  phone!.record(stems('v1', 1))
  ripen(phone!, time) // framed and sent, not there yet
  const old = phone!.disk.copy()
  heal([phone!], time, shed)
  phone!.record(stems('v2', 2))
  heal([phone!], time, shed)
  const back = new Phone('back in time', shed, time, 0, old)
  heal([back], time, shed)
  const { incarnation } = back.book.pen
  const { operation } = back.book.own.holding(incarnation, 1)!
  expect(operation).toMatchObject({ held: [1], orders: [null], moved: false })
  expect(looksOf(back.book.entity('visit', 'v1')!)).toEqual([])
  expectEqual(shed, [back])
  back.start()
  expect(dump(back.book.entities())).toBe(dump(shed.state()))
})

test.each([false, true])('what an older shed holds under another identity is no longer taken for confirmed, as far as it was: %s', asFar => {
  const { shed, time, phones: [phone] } = world(1)
  heal([phone!], time, shed)
  phone!.record(stems('v1', 4))
  ripen(phone!, time)
  while (phone!.carryUp());
  phone!.carryDown() // the acknowledgement, but not the news that moves the cursor
  phone!.cut()
  expect(phone!.book.pen.settled).toBe(1)
  const { incarnation } = phone!.book.pen
  const [kept] = shed.kept
  shed.restore(0, shed.epoch)
  const again = { ...kept!.change, incarnation: 'aaaaaaaa-0000-4000-8000-000000000000', extra: { former: `${incarnation}:1` } }
  shed.operation([again]) // by a copy of the phone, that was there first
  if (asFar) shed.operation([kept!.change]) // by another copy
  heal([phone!], time, shed)
  expect(phone!.book.own.holding(incarnation, 1)!.operation.held).toEqual([1])
  expectEqual(shed, [phone!])
})

test('a stored history that is damaged is read anew', () => {
  const { shed, time, phones: [phone, other] } = world(2)
  for (let i = 0; i < 4; i++) other!.record(stems(`v${i}`, i + 1))
  heal([phone!, other!], time, shed)
  const [chunk] = phone!.disk.contents().chunks
  const batches = chunk!.batches.map(batch => batch.slice(0, -1))
  phone!.disk.commit([{ kind: 'chunk', chunk: { ...chunk!, batches }, fresh: [] }])
  phone!.start()
  expect([...phone!.book.names()]).toEqual([])
  heal([phone!], time, shed)
  expectEqual(shed, [phone!])
  phone!.start()
  expect(dump(phone!.book.entities())).toBe(dump(shed.state()))
})

describe('an operation larger than a frame', { timeout: 60_000 }, () => {
  /** Two of its three parts are put aside when the line breaks. */
  function broken() {
    const { shed, time, phones: [phone] } = world(1)
    heal([phone!], time, shed)
    phone!.record(stems('v1', 1))
    phone!.record(...codes(4500))
    ripen(phone!, time)
    for (let i = 0; i < 3; i++) phone!.carryUp() // the first count, two parts
    expect(shed.kept).toHaveLength(1)
    phone!.cut()
    return { shed, time, phone: phone! }
  }

  test('goes on behind the parts that the shed has, and is kept as one', () => {
    const { shed, time, phone } = broken()
    heal([phone], time, shed)
    expect(shed.pushes).toEqual([1, 2000, 2000, 500])
    expect(shed.kept).toHaveLength(4501)
    expectEqual(shed, [phone])
  })

  test('begins again where what was put aside is not what the phone has', () => {
    const { shed, time, phone } = broken()
    const [incarnation, aside] = [...shed.aside][0]!
    shed.aside.set(incarnation, aside.map(change => ({ ...change, value: 'of a copy' })))
    heal([phone], time, shed)
    expect(shed.pushes).toEqual([1, 2000, 2000, 2000, 2000, 500])
    expectEqual(shed, [phone])
    expect(shed.kept.some(({ change }) => change.value === 'of a copy')).toBe(false)
  })

  test('is refused as one', () => {
    const { shed, time, phone } = broken()
    shed.refuses = change => (change.value === 'R4200' ? 'value' : undefined)
    heal([phone], time, shed)
    expect(shed.kept).toHaveLength(1)
    const refused = phone.book.refused()
    expect(refused).toHaveLength(4500)
    expect(refused.filter(({ code }) => code === 'value')).toHaveLength(1)
    expectEqual(shed, [phone])
  })
})

describe('a restored shed', () => {
  /** A phone that settled one count under an earlier incarnation, and one under its present one. */
  function twice() {
    const { shed, time, phones: [other] } = world(1)
    other!.record(stems('v1', 1))
    heal([other!], time, shed)
    const phone = new Phone('copy', shed, time, 0, other!.disk.copy())
    other!.record(stems('v2', 2))
    heal([other!], time, shed)
    heal([phone], time, shed)
    phone.record(stems('v3', 3))
    heal([phone], time, shed)
    const [former] = phone.book.pen.formers
    other!.cut()
    return { shed, time, phone, former: former! }
  }

  test('is also filled with what the phone wrote under its earlier incarnations', () => {
    const { shed, time, phone, former } = twice()
    const before = new Map(shed.kept.map(({ change, order }) => [`${change.incarnation}:${change.seq}`, order]))
    shed.restore(0, 'epoch 2')
    heal([phone], time, shed)
    expect(identities(shed.kept)).toEqual([`${former}:1`, `${phone.book.pen.incarnation}:1`])
    for (const { change, order } of shed.kept) expect(order).toEqual(before.get(`${change.incarnation}:${change.seq}`))
    expectEqual(shed, [phone])
  })

  test('is filled by itself also where the line breaks again and again', () => {
    const { shed, time, phone, former } = twice()
    shed.restore(0, 'epoch 2')
    for (let n = 1; n <= 12; n++) {
      for (let i = 0; i < n && (phone.carryUp() || phone.carryDown()); i++);
      if (n % 3 === 0) phone.start()
      phone.cut()
      wait([], shed, time, 31)
      phone.happen({ kind: 'tick' })
    }
    heal([phone], time, shed)
    expect(identities(shed.kept)).toEqual([`${former}:1`, `${phone.book.pen.incarnation}:1`])
    expectEqual(shed, [phone])
  })

  test('whose past of an earlier incarnation is another is told this one under an incarnation of its own, once', () => {
    const { shed, time, phone, former } = twice()
    const { change, order } = shed.kept[0]!
    shed.restore(0, 'epoch 2')
    shed.operation([{ ...change, value: 9 }])
    heal([phone], time, shed)
    const { incarnation, formers: [again, ...others] } = phone.book.pen
    expect(others).toEqual([former])
    expect(identities(shed.kept)).toEqual([`${former}:1`, `${again}:1`, `${incarnation}:1`])
    expect(shed.kept[1]).toEqual({ change: { ...change, incarnation: again, extra: { former: `${former}:1` } }, order })
    expect(phone.book.own.holding(former, 1)!.operation.moved).toBe(true)
    expectEqual(shed, [phone])
    shed.restore(0, 'epoch 3')
    heal([phone], time, shed)
    expect(phone.book.pen.formers).toEqual([again, former])
    expect(identities(shed.kept)).toEqual([`${again}:1`, `${incarnation}:1`])
    expectEqual(shed, [phone])
  })

  test('is asked for the earlier incarnations once', () => {
    const { shed, time, phone } = twice()
    shed.restore(0, 'epoch 2')
    heal([phone], time, shed)
    const { hellos } = shed
    phone.cut()
    heal([phone], time, shed)
    expect(shed.hellos).toBe(hellos + 1)
  })

  test('may refuse now what it had kept: then it leaves the state', () => {
    const { shed, time, phone } = twice()
    shed.restore(0, 'epoch 2')
    shed.refuses = change => (change.id === 'v3' ? 'value' : undefined)
    heal([phone], time, shed)
    expect(phone.book.entity('visit', 'v3')).toBeUndefined()
    expect(phone.book.refused()).toHaveLength(1)
    expectEqual(shed, [phone])
  })
})

test('news that comes while pushes are under way is taken in, and they are acknowledged', () => {
  const { shed, time, phones: [phone, other] } = world(2)
  heal([phone!, other!], time, shed)
  for (let n = 1; n <= 5; n++) {
    phone!.record({ ...stems('v1', n), op: 'correct', extra: { saw: 0 } }) // framed at once
    other!.record({ ...stems('v2', n), op: 'correct', extra: { saw: 0 } })
  }
  ripen(phone!, time)
  ripen(other!, time)
  expect(statusOf(phone!.book, phone!.session).sent).toBeGreaterThan(0)
  while (other!.carryUp() || other!.carryDown());
  phone!.carryDown()
  expect(count(phone!.book.entity('visit', 'v2')!, '|0|0').total).toBeGreaterThan(0)
  expect(statusOf(phone!.book, phone!.session).sent).toBeGreaterThan(0)
  heal([phone!, other!], time, shed)
  expectEqual(shed, [phone!, other!])
})

describe('without anything new being recorded', () => {
  test('what could not be stored is asked for and stored again', () => {
    const { shed, time, phones: [phone, other] } = world(2)
    heal([phone!, other!], time, shed)
    phone!.record(stems('v1', 1))
    other!.record(stems('v2', 2))
    phone!.disk.full = true
    wait([phone!, other!], shed, time, 90)
    expect(phone!.book.pen.settled).toBe(0)
    phone!.disk.full = false
    wait([phone!, other!], shed, time, 31)
    expectEqual(shed, [phone!, other!])
  })

  test('a shed that takes nothing for a while is tried less and less often, and then gets it', () => {
    const { shed, time, phones: [phone] } = world(1)
    heal([phone!], time, shed)
    shed.busyForPushes = true
    const { hellos } = shed
    phone!.record(stems('v1', 1))
    wait([phone!], shed, time, 120)
    expect(shed.kept).toHaveLength(0)
    expect(shed.hellos - hellos).toBeLessThanOrEqual(9) // after 1, 2, 4, 8, 16, 30, 30 s
    shed.busyForPushes = false
    wait([phone!], shed, time, 31)
    expectEqual(shed, [phone!])
  })

  test('how far a long sending has come is told', () => {
    const { shed, time, phones: [phone] } = world(1)
    phone!.record(...codes(1500))
    phone!.record(...codes(1500).map(fact => ({ ...fact, field: 'tag' })))
    ripen(phone!, time)
    const seen: unknown[] = []
    for (let i = 0; i < 20; i++) {
      while (phone!.carryUp());
      phone!.carryDown()
      seen.push(statusOf(phone!.book, phone!.session).outgoing)
    }
    expect(seen).toContainEqual({ done: 1500, total: 3000 })
    heal([phone!], time, shed)
    expect(statusOf(phone!.book, phone!.session).outgoing).toBeUndefined()
  })
})

test('a newer shed that speaks no version of this app is said, and the log can be saved', () => {
  const { shed, time, phones: [phone] } = world(1)
  heal([phone!], time, shed)
  phone!.cut()
  shed.versions = [2, 3]
  phone!.record(stems('v1', 1))
  phone!.record({ ...stems('v1', -1), op: 'correct', extra: { saw: 1 } }) // framed at once, with what was before
  heal([phone!], time, shed)
  expect(phone!.session).toMatchObject({ link: 'refused', refusal: 'version' })
  expect(statusOf(phone!.book, phone!.session).pending).toBe(2)
  const lines = unsentText(phone!.book, 'device').trimEnd().split('\n')
  expect(lines.slice(1)).toEqual([...phone!.book.own].flatMap(({ operation }) => operation.texts))
  expect(lines).toHaveLength(3)
  shed.versions = [1, 2]
  phone!.happen({ kind: 'wake', insist: true })
  heal([phone!], time, shed)
  expectEqual(shed, [phone!])
})
