// A shed that lost what an earlier incarnation wrote, in ways that only the phone can notice.

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Fact } from '../log/change'
import { dump } from '../log/dump'
import { factsOf, firstIdentity } from '../log/identity'
import { mayBeOlder, mayLack } from './filling'
import { statusOf } from './status'
import { heal, Phone } from './testing/phone'
import { ShedModel } from './testing/shed_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'

function stems(visit: string, value: number): Fact {
  return { scope: 'field', op: 'count', type: 'visit', id: visit, field: '|0|0', value }
}

/** A phone that was copied: two counts under its earlier incarnation, the second refused if asked; one since. */
function copied(refused?: string) {
  const shed = new ShedModel(farm, 'epoch 1', 1_780_000_000_000)
  const time = { now: 0 }
  const original = new Phone('original', shed, time)
  shed.refuses = change => (change.id === refused ? 'date' : undefined)
  for (const [n, visit] of ['v1', 'v2'].entries()) {
    original.record(stems(visit, n + 1))
    heal([original], time, shed)
  }
  const phone = new Phone('copy', shed, time, 0, original.disk.copy())
  original.record(stems('v8', 8))
  heal([original], time, shed)
  phone.record(stems('v3', 3))
  heal([phone], time, shed)
  expect(phone.book.pen.formers).toHaveLength(1)
  original.cut()
  return { shed, time, phone }
}

function visits(shed: ShedModel): string[] {
  return shed.kept.map(({ change }) => change.id)
}

function expectLevel(shed: ShedModel, phone: Phone): void {
  expect(statusOf(phone.book, phone.session)).toMatchObject({ link: 'live', pending: 0, sent: 0 })
  expect(dump(phone.book.entities())).toBe(dump(shed.state()))
}

test('what an earlier incarnation wrote and a restored shed judges otherwise is known as it is now', () => {
  const { shed, time, phone } = copied('v2')
  expect(phone.book.refused().map(({ change }) => change.id)).toEqual(['v2'])
  shed.refuses = change => (change.id === 'v1' ? 'value' : undefined)
  shed.restore(0, 'epoch 2')
  heal([phone], time, shed)
  expect(phone.book.refused().map(({ change }) => change.id)).toEqual(['v1'])
  expect(visits(shed)).toEqual(['v2', 'v3'])
  expectLevel(shed, phone)
})

test('an older copy under the same epoch is noticed by the cursor, and filled once', () => {
  const { shed, time, phone } = copied()
  const { epoch, hellos } = shed
  shed.restore(0, epoch)
  heal([phone], time, shed)
  expect(visits(shed)).toEqual(['v1', 'v2', 'v3'])
  expectLevel(shed, phone)
  expect(shed.hellos - hellos).toBe(3) // the cursor does not hold; the earlier incarnation; the present one
})

test('a past that the shed takes for broken holds nothing up, and is tried again when the app starts anew', () => {
  const { shed, time, phone } = copied()
  shed.restore(0, 'epoch 2')
  phone.happen({ kind: 'wake' })
  for (let i = 0; i < 20 && !(phone.session.link === 'catching_up' && shed.hellos > 0 && phone.carryUp()); i++) {
    if (!phone.carryUp()) phone.carryDown()
  }
  const { formers } = phone.book.pen
  expect(visits(shed)).not.toContain('v1')
  phone.happen({ kind: 'message', data: '{"t":"refuse","code":"malformed","text":""}' })
  heal([phone], time, shed)
  expect(formers.length).toBeGreaterThan(0)
  expect(visits(shed)).toContain('v3')
  expect(phone.book.pen.filled).not.toBe('epoch 2')
  phone.start()
  heal([phone], time, shed)
  expect(visits(shed).sort()).toEqual(['v1', 'v2', 'v3'])
  expect(phone.book.pen.filled).toBe('epoch 2')
})

test('where also the present past is another, everything is said again', () => {
  const { shed, time, phone } = copied()
  const { epoch } = shed
  const last = shed.kept.at(-1)!.change
  shed.restore(0, epoch)
  shed.operation([{ ...last, id: 'v9' }]) // of a copy that was there first
  heal([phone], time, shed)
  expect(visits(shed).sort()).toEqual(['v1', 'v2', 'v3', 'v9'])
  expectLevel(shed, phone)
})

describe('a shed that may be an older copy', () => {
  const level = { epoch: 'epoch 1', resume: true, seq: 1 }
  const greetings = [
    ['the same shed', level, false],
    ['another epoch', { ...level, epoch: 'epoch 2' }, true],
    ['a cursor that does not hold', { ...level, resume: false }, true],
    ['less settled than was acknowledged', { ...level, seq: 0 }, true],
  ] as const
  test.each(greetings)('%s', (_, greeting, older) => {
    const { phone } = copied()
    expect(phone.book.pen).toMatchObject({ settled: 1, filled: 'epoch 1' })
    expect(mayBeOlder(phone.book, greeting)).toBe(older)
    expect(mayLack(phone.book, greeting)).toBe(older)
  })

  test('is any, where it is no longer known of which shed the acknowledgements were', () => {
    const { phone: { book } } = copied()
    const { filled: _, ...pen } = book.pen
    book.apply([{ kind: 'pen', pen }, { kind: 'reading', reading: { ...book.reading, cursor: null } }])
    expect(mayBeOlder(book, level)).toBe(true)
    book.apply([{ kind: 'pen', pen: { ...pen, settled: 0 } }])
    expect(mayBeOlder(book, level)).toBe(false)
  })

  test('and has settled less, under a past that is another: also what it had acknowledged is said again', () => {
    const shed = new ShedModel(farm, 'epoch 1', 1_780_000_000_000)
    const time = { now: 0 }
    const phone = new Phone('phone', shed, time)
    heal([phone], time, shed)
    phone.record(stems('v1', 1), stems('v2', 2))
    time.now += 400
    phone.happen({ kind: 'tick' })
    phone.carryUp()
    phone.carryDown() // the acknowledgement, not the news that moves the cursor
    const { incarnation, settled } = phone.book.pen
    expect([settled, phone.book.reading.cursor!.arrival]).toEqual([2, 0])
    const { change } = shed.kept[0]!
    shed.restore(0, 'epoch 1')
    shed.operation([{ ...change, id: 'v9' }]) // of a copy that was there first
    heal([phone], time, shed)
    expect(phone.book.pen.formers).toEqual([incarnation])
    expect(visits(shed)).toEqual(['v9', 'v1', 'v2'])
    expectLevel(shed, phone)
  })
})

/** Two copies of a phone that is gone: under its name `ahead` has v1 and v2 settled, and `behind` only v1. */
function copies() {
  const shed = new ShedModel(farm, 'epoch 1', 1_780_000_000_000)
  const time = { now: 0 }
  const original = new Phone('original', shed, time)
  original.record(stems('v1', 1))
  heal([original], time, shed)
  const behind = new Phone('behind', shed, time, 0, original.disk.copy())
  original.record(stems('v2', 2))
  heal([original], time, shed)
  const ahead = new Phone('ahead', shed, time, 0, original.disk.copy())
  original.record(stems('v8', 8))
  heal([original], time, shed)
  original.cut()
  ahead.record(stems('v3', 3))
  heal([ahead], time, shed)
  return { shed, time, behind, ahead }
}

describe('copies of one phone that fill in the same past', () => {
  /** The shed is back at v1. */
  function pair() {
    const { shed, time, behind, ahead } = copies()
    shed.restore(1, 'epoch 2')
    behind.record(stems('v7', 7))
    return { shed, time, behind, ahead }
  }

  test('what only one of them knows is not lost where the other was first', () => {
    const { shed, time, behind, ahead } = pair()
    heal([behind], time, shed)
    heal([ahead], time, shed)
    expect(visits(shed)).toEqual(['v1', 'v7', 'v2', 'v3'])
    expectLevel(shed, ahead)
  })

  test('nor where the other is first while both are at it', () => {
    const { shed, time, behind, ahead } = pair()
    const incarnation = behind.book.pen.incarnation
    ahead.happen({ kind: 'wake' })
    for (let i = 0; i < 20 && ahead.session.link !== 'catching_up'; i++) {
      if (!ahead.carryUp()) ahead.carryDown()
      time.now += 100
      ahead.happen({ kind: 'tick' })
    }
    expect(shed.pastOf(incarnation)).toHaveLength(1) // v2 is under way as the second
    heal([behind], time, shed)
    expect(shed.pastOf(incarnation)).toHaveLength(2)
    heal([ahead], time, shed)
    expect(visits(shed)).toEqual(['v1', 'v7', 'v2', 'v3'])
    expectLevel(shed, ahead)
  })

  test('nor where the other is first each time that it tries: it waits until that is over', () => {
    const { shed, time, behind, ahead } = pair()
    const incarnation = behind.book.pen.incarnation
    let races = 0
    const { hellos } = shed
    for (let i = 0; i < 60; i++) {
      if (!ahead.carryUp()) ahead.carryDown()
      time.now += 100
      ahead.happen({ kind: 'tick' })
      const past = shed.pastOf(incarnation)
      if (ahead.session.link !== 'catching_up' || past.length > 1) continue
      races++
      ahead.happen({ kind: 'message', data: '{"t":"refuse","code":"reused","text":""}' })
    }
    // Of the present incarnation, then of the former: at once twice, and after 2 s, since its line had broken before.
    expect([shed.hellos - hellos, races]).toEqual([4, 3])
    heal([behind], time, shed)
    heal([ahead], time, shed)
    expect(visits(shed).sort()).toEqual(['v1', 'v2', 'v3', 'v7'])
    expectLevel(shed, ahead)
  })

  test('a phone whose line breaks again and again says it again once', () => {
    const { shed, time, behind, ahead } = pair()
    heal([behind], time, shed)
    for (let n = 1; n <= 12; n++) {
      for (let i = 0; i < n && (ahead.carryUp() || ahead.carryDown()); i++);
      if (n % 3 === 0) ahead.start()
      ahead.cut()
      time.now += 31_000
      ahead.happen({ kind: 'tick' })
    }
    heal([ahead], time, shed)
    expect(ahead.book.pen.formers).toHaveLength(2)
    expect(visits(shed)).toEqual(['v1', 'v7', 'v2', 'v3'])
    expectLevel(shed, ahead)
  })

  test('where it cannot be stored that it was said again, nothing is lost and the shed is not asked all the time', () => {
    const { shed, time, behind, ahead } = pair()
    heal([behind], time, shed)
    ahead.disk.full = true
    const { hellos } = shed
    heal([ahead], time, shed) // 100 s
    expect(shed.hellos - hellos).toBeLessThanOrEqual(20)
    ahead.disk.full = false
    time.now += 31_000
    heal([ahead], time, shed)
    expect(visits(shed)).toEqual(['v1', 'v7', 'v2', 'v3'])
    expectLevel(shed, ahead)
  })
})

const step = fc.oneof(
  { weight: 5, arbitrary: fc.record({ do: fc.constant('record' as const), who: fc.nat() }) },
  { weight: 6, arbitrary: fc.record({ do: fc.constantFrom('up' as const, 'down' as const, 'wait' as const), who: fc.nat() }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constantFrom('cut' as const, 'kill' as const, 'clone' as const, 'restore' as const), who: fc.nat() }) },
  { weight: 3, arbitrary: fc.record({ do: fc.constant('heal' as const), who: fc.nat() }) },
)

/** What a phone has framed that the shed keeps under no identity. */
function lackedBy(shed: ShedModel, phone: Phone): string[] {
  const kept = new Set(shed.kept.map(({ change }) => `${firstIdentity(change)} ${factsOf(change)}`))
  const own = [...phone.book.own].flatMap(({ changes }) => changes)
  return own.filter(change => !kept.has(`${firstIdentity(change)} ${factsOf(change)}`)).map(({ id }) => id)
}

test('in the end the shed holds every change that a phone still has, whatever was copied and restored', { timeout: 60_000 }, () => {
  fc.assert(fc.property(fc.array(step, { maxLength: 40 }), steps => {
    const { shed, time, behind, ahead } = copies()
    const phones = [behind, ahead]
    steps.forEach((s, n) => {
      const phone = phones[s.who % phones.length]!
      if (s.do === 'record') phone.record({ ...stems(`w${n}`, n), op: 'set' })
      if (s.do === 'up') phone.carryUp()
      if (s.do === 'down') phone.carryDown()
      if (s.do === 'cut') phone.cut()
      if (s.do === 'kill') phone.start()
      if (s.do === 'wait') for (const p of phones) (time.now += 400), p.happen({ kind: 'tick' })
      if (s.do === 'heal') heal([phone], time, shed)
      if (s.do === 'clone' && phones.length < 4) phones.push(new Phone(`p${phones.length}`, shed, time, 0, phone.disk.copy()))
      if (s.do === 'restore') shed.restore(s.who % (shed.kept.length + 1), `${shed.epoch}+`)
    })
    for (let i = 0; i <= phones.length; i++) {
      heal(phones, time, shed)
      for (const phone of phones) {
        phone.cut()
        phone.happen({ kind: 'wake', insist: true })
      }
    }
    heal(phones, time, shed)
    for (const phone of phones) {
      expect(lackedBy(shed, phone)).toEqual([])
      expectLevel(shed, phone)
    }
  }), { numRuns: 150 })
})
