// What the shed refuses: the conversation, which is tried again, and changes, which stay on the phone.

import { describe, expect, test, vi } from 'vitest'
import type { Fact } from '../log/change'
import { count } from '../log/count'
import type { SessionEvent } from './events'
import { statusOf } from './status'
import { heal, Phone } from './testing/phone'
import { ShedModel } from './testing/shed_model'
import { unsentText } from './unsent'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const start = 1_780_000_000_000
const minute = 60_000

function stems(visit: string, value: number): Fact {
  return { scope: 'field', op: 'count', type: 'visit', id: visit, field: '|0|0', value }
}

function total(phone: Phone, visit: string): number {
  const entity = phone.book.entity('visit', visit)
  return entity ? count(entity, '|0|0').total : 0
}

function world() {
  const shed = new ShedModel(farm, 'epoch 1', start)
  const time = { now: 0 }
  return { shed, time, phone: new Phone('p', shed, time) }
}

describe('a conversation that is refused', () => {
  /** A session that the shed has just refused with the code, at the moment 0. */
  function refusedWith(code: string) {
    const { phone: { session } } = world()
    const tell = (event: SessionEvent, now: number) => session.handle(event, { now, wall: start + now })
    const refuse = (now: number) => tell({ kind: 'message', data: JSON.stringify({ t: 'refuse', code, text: '' }) }, now)
    tell({ kind: 'tick' }, 0)
    refuse(0)
    return { session, tell, refuse }
  }

  test.each(['version', 'farm', 'malformed', 'split', 'too_large'])('for %s is said and tried again every five minutes', code => {
    const { session, tell, refuse } = refusedWith(code)
    expect([session.link, session.refusal]).toEqual(['refused', code])
    expect(session.nextTick()).toBe(5 * minute)
    expect(tell({ kind: 'tick' }, 5 * minute - 1)).toEqual([])
    expect(tell({ kind: 'wake' }, 5 * minute - 1)).toEqual([])
    expect(tell({ kind: 'tick' }, 5 * minute)).toEqual([{ kind: 'connect' }])
    refuse(5 * minute)
    expect(session.nextTick()).toBe(10 * minute)
  })

  test('is tried again at once when a person asks', () => {
    const { session, tell } = refusedWith('farm')
    expect(tell({ kind: 'wake', insist: true }, 10)).toEqual([{ kind: 'connect' }])
    expect([session.link, session.refusal]).toEqual(['connecting', undefined])
  })

  test('for reused is tried again at once, and after that like any other', () => {
    const { session, tell, refuse } = refusedWith('reused')
    expect(session.nextTick()).toBe(0)
    expect(tell({ kind: 'tick' }, 0)).toEqual([{ kind: 'connect' }])
    refuse(0)
    expect([session.link, session.refusal, session.nextTick()]).toEqual(['refused', 'reused', 5 * minute])
  })

  test('heals by itself where two copies of a phone wrote while both were connected', () => {
    const { shed, time, phone } = world()
    phone.record(stems('v1', 1))
    heal([phone], time, shed)
    const copy = new Phone('copy', shed, time, 0, phone.disk.copy())
    heal([phone, copy], time, shed)
    phone.record(stems('v2', 2))
    heal([phone, copy], time, shed)
    copy.record(stems('v3', 3))
    heal([phone, copy], time, shed)
    for (const one of [phone, copy]) {
      expect(statusOf(one.book, one.session)).toMatchObject({ link: 'live', pending: 0, sent: 0 })
      expect(['v1', 'v2', 'v3'].map(visit => total(one, visit))).toEqual([1, 2, 3])
    }
  })
})

/** A phone of whose three operations the shed refused the second. */
function phoneWithRefused() {
  const { shed, time, phone } = world()
  shed.refuses = change => (change.value === 1000 ? 'count' : undefined)
  for (const facts of [[stems('v1', 1)], [stems('v2', 1000), stems('v3', 3)], [stems('v4', 4)]]) {
    phone.record(...facts)
    heal([phone], time, shed)
  }
  return { shed, time, phone }
}

describe('changes that are refused', () => {
  test('are saved to the file, and its first line names them with their reasons', () => {
    const { phone } = phoneWithRefused()
    const { incarnation } = phone.book.pen
    const before = phone.book.own.hashAt(incarnation, 4)
    const all = [...phone.book.own].flatMap(({ operation }) => operation.texts)
    expect(readFile(unsentText(phone.book, 'device'))).toEqual({
      header: {
        t: 'unsent', version: 1, farm, device: 'device', incarnation, before, unsent: 0,
        refused: { [`${incarnation}:2`]: 'count', [`${incarnation}:3`]: 'operation' },
      },
      lines: all.slice(1, 3),
    })
  })

  test('follow what is unsent, which the first line counts', () => {
    const { phone, shed, time } = phoneWithRefused()
    shed.busy = true
    phone.cut()
    const correction: Fact = { ...stems('v1', -1), op: 'correct', extra: { saw: 1 } }
    phone.record(correction) // framed at once
    const all = [...phone.book.own].flatMap(({ operation }) => operation.texts)
    const { header, lines } = readFile(unsentText(phone.book, 'device'))
    expect(header).toMatchObject({ unsent: 1, before: phone.book.own.hashAt(phone.book.pen.incarnation, 4) })
    expect(lines).toEqual([all[4], all[1], all[2]])
    shed.busy = false
    heal([phone], time, shed)
    expect(readFile(unsentText(phone.book, 'device')).lines).toEqual([all[1], all[2]])
  })

  test('stand in the file once where a restored shed has not judged them yet', () => {
    const { phone, shed, time } = phoneWithRefused()
    shed.restore(1, 'epoch 2')
    phone.happen({ kind: 'wake' })
    // The welcome, after which all is asked for anew; then one that says that only the first is settled.
    for (let i = 0; i < 2; i++) {
      while (phone.carryUp());
      phone.carryDown()
    }
    expect(phone.book.pen.settled).toBe(1)
    const { header, lines } = readFile(unsentText(phone.book, 'device'))
    expect(lines).toHaveLength(3)
    expect(header).toMatchObject({ unsent: 3 })
    expect(Object.values(header['refused'] as object)).toEqual(['count', 'operation'])
    heal([phone], time, shed)
    expect(phone.book.refused().map(({ code }) => code)).toEqual(['count', 'operation'])
  })

  test('are known without a walk through the own log', () => {
    const { phone } = phoneWithRefused()
    const walk = vi.spyOn(phone.book.own, Symbol.iterator)
    expect(statusOf(phone.book, phone.session).refused.map(({ seq, code }) => [seq, code])).toEqual([[2, 'count'], [3, 'operation']])
    expect(walk).not.toHaveBeenCalled()
    phone.start()
    expect(phone.book.refused().map(({ change }) => change.seq)).toEqual([2, 3])
  })

  test('are no longer counted once they were sent again, or kept after all', () => {
    const { phone } = phoneWithRefused()
    const { operation } = phone.book.own.holding(phone.book.pen.incarnation, 2)!
    phone.book.apply([{ kind: 'own', operation: { ...operation, moved: true } }])
    expect(phone.book.refused()).toEqual([])
    phone.book.apply([{ kind: 'own', operation }])
    expect(phone.book.refused()).toHaveLength(2)
    phone.book.apply([{ kind: 'own', operation: { ...operation, refused: [] } }])
    expect(phone.book.refused()).toEqual([])
  })
})

function readFile(text: string): { header: Record<string, unknown>; lines: string[] } {
  const [header, ...lines] = text.trimEnd().split('\n')
  return { header: JSON.parse(header!) as Record<string, unknown>, lines }
}
