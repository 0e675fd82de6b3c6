// A shed that lost what an earlier incarnation wrote, in ways that only the phone can notice.

import { expect, test } from 'vitest'
import type { Fact } from '../log/change'
import { dump } from '../log/dump'
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
