// A correction that follows one which was sent again under a new incarnation.

import { expect, test } from 'vitest'
import { correctFact } from '../crop/facts'
import type { VisitID } from '../crop/nouns'
import type { Fact } from '../log/change'
import { count } from '../log/count'
import { dump } from '../log/dump'
import { looksOf } from '../log/look'
import { heal, Phone } from './testing/phone'
import { ShedModel } from './testing/shed_model'

const visit = 'v1' as VisitID
const cell = '|0|0'

function cellOf(phone: Phone) {
  return count(phone.book.entity('visit', visit)!, cell)
}

function correct(phone: Phone, by: number): void {
  const { total, tips } = cellOf(phone)
  phone.record(correctFact('field', visit, cell, by, total, tips))
}

test.each([false, true])('goes on with the line, though the shed held that already; told before: %s', told => {
  const shed = new ShedModel('f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2', 'epoch 1', 1_780_000_000_000)
  const time = { now: 0 }
  const phone = new Phone('ana', shed, time)
  const stems = (id: string, value: number): Fact => ({ scope: 'field', op: 'count', type: 'visit', id, field: cell, value })
  phone.record(stems(visit, 10))
  heal([phone], time, shed)
  correct(phone, 2)
  const old = phone.disk.copy()
  heal([phone], time, shed)
  phone.record(stems('v2', 1)) // what only the copy lacks, so that its past is not proven
  heal([phone], time, shed)

  const back = new Phone('ana', shed, time, 0, old)
  const { incarnation } = back.book.pen
  back.happen({ kind: 'tick' })
  while (back.book.pen.incarnation === incarnation) expect(back.carryUp() || back.carryDown()).toBe(true)
  if (told) heal([back], time, shed)
  correct(back, 3)
  heal([back, phone], time, shed)

  for (const one of [back, phone]) {
    expect(cellOf(one)).toMatchObject({ total: 15, missed: false })
    expect(looksOf(one.book.entity('visit', visit)!)).toEqual([])
    expect(dump(one.book.entities())).toBe(dump(shed.state()))
  }
  expect(back.book.own.holding(back.book.pen.incarnation, 1)!.operation.held).toEqual([1])
})
