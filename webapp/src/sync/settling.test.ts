// An acknowledgement, or a welcome, that ends inside an operation: nothing beyond it is settled.

import { expect, test } from 'vitest'
import type { Fact } from '../log/change'
import { dump } from '../log/dump'
import { toldUpTo } from './settling'
import { statusOf } from './status'
import { heal, Phone } from './testing/phone'
import { ShedModel } from './testing/shed_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'

function code(plant: string): Fact {
  return { scope: 'field', op: 'set', type: 'plant', id: plant, field: 'code', value: plant }
}

/** An operation of three changes that was sent and not answered yet. */
function sent() {
  const shed = new ShedModel(farm, 'epoch 1', 1_780_000_000_000)
  const time = { now: 0 }
  const phone = new Phone('phone', shed, time)
  heal([phone], time, shed)
  phone.record(code('k1'), code('k2'), code('k3'))
  time.now += 400
  phone.happen({ kind: 'tick' })
  const { incarnation } = phone.book.pen
  const { changes } = phone.book.own.holding(incarnation, 1)!
  return { shed, time, phone, incarnation, changes }
}

/** The shed has another word for each change, also for one beyond the seq. */
function acknowledge(phone: Phone, seq: number): void {
  const refused = [{ seq: 3, code: 'value', text: 'beyond what is settled' }]
  phone.happen({ kind: 'message', data: JSON.stringify({ t: 'ack', seq, staged: 0, orders: [[2, 7, 1]], held: [1], refused }) })
}

test('what became of each change is noted up to the seq, and of none beyond', () => {
  const { phone, incarnation } = sent()
  acknowledge(phone, 2)
  const { operation } = phone.book.own.holding(incarnation, 3)!
  expect(operation).toMatchObject({ orders: [null, { l: 7, c: 1 }, null], held: [1], refused: [] })
  expect(phone.book.pen.settled).toBe(2)
  expect(toldUpTo(phone.book, incarnation, 2)).toBe(2)
  expect(statusOf(phone.book, phone.session)).toMatchObject({ sent: 1, pending: 0 })
  phone.start()
  expect(['k1', 'k2', 'k3'].map(id => phone.book.entity('plant', id) !== undefined)).toEqual([false, true, true])
})

test('the next acknowledgement leaves what was noted', () => {
  const { phone, incarnation, changes } = sent()
  acknowledge(phone, 2)
  phone.happen({ kind: 'message', data: JSON.stringify({ t: 'ack', seq: 3, staged: 0 }) })
  const { operation } = phone.book.own.holding(incarnation, 3)!
  expect(operation).toMatchObject({ orders: [null, { l: 7, c: 1 }, changes[2]!.stamp], held: [1] })
  expect(phone.book.pen.settled).toBe(3)
})

test('a shed that has a part of an operation gets the rest', () => {
  const { shed, time, phone, changes } = sent()
  phone.cut()
  shed.operation(changes.slice(0, 2))
  heal([phone], time, shed)
  expect(shed.kept.map(({ change }) => change.id)).toEqual(['k1', 'k2', 'k3'])
  expect(statusOf(phone.book, phone.session)).toMatchObject({ link: 'live', pending: 0, sent: 0 })
  expect(dump(phone.book.entities())).toBe(dump(shed.state()))
})

test('where the past is not proven then, the whole operation is said again', () => {
  const { shed, time, phone, incarnation, changes } = sent()
  phone.cut()
  shed.operation([changes[0]!])
  phone.happen({ kind: 'wake' })
  phone.carryUp()
  phone.carryDown()
  expect(phone.book.pen.settled).toBe(1)
  phone.cut()
  shed.operation([{ ...changes[1]!, id: 'k9', rest: 0 }]) // of a copy
  heal([phone], time, shed)
  expect(phone.book.pen).toMatchObject({ seq: 3, formers: [incarnation] })
  expect(phone.book.own.holding(phone.book.pen.incarnation, 1)!.operation.held).toEqual([1])
  expect(shed.kept.map(({ change }) => change.id)).toEqual(['k1', 'k9', 'k2', 'k3'])
  expect(dump(phone.book.entities())).toBe(dump(shed.state()))
})
