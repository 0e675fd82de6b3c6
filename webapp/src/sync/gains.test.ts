// What came of a line: how soon the next is tried, what is said to be confirmed, and since when the phone
// is said to be level.

import { describe, expect, test } from 'vitest'
import type { Fact } from '../log/change'
import { statusOf } from './status'
import { heal, Phone } from './testing/phone'
import { newsMessage } from './testing/shed_line'
import { ShedModel } from './testing/shed_model'

const farm = 'f0a1b2c3-d4e5-4f60-8a7b-8c9dae0fb1c2'
const start = 1_780_000_000_000
const threeHours = 3 * 3_600_000

function stems(visit: string, value: number): Fact {
  return { scope: 'field', op: 'count', type: 'visit', id: visit, field: '|0|0', value }
}

function codes(n: number): Fact[] {
  return Array.from({ length: n }, (_, i) => ({ scope: 'field', op: 'set', type: 'plant', id: `k${i}`, field: 'code', value: `R${i}` }))
}

/** Two phones that are level. */
function world() {
  const shed = new ShedModel(farm, 'epoch 1', start)
  const time = { now: 0 }
  const [phone, other] = [new Phone('p0', shed, time), new Phone('p1', shed, time)]
  heal([phone, other], time, shed)
  return { shed, time, phone, other }
}

type World = ReturnType<typeof world>

/** Lets drafts become ripe, so that they are framed and sent. */
function ripen(phone: Phone, time: { now: number }): void {
  time.now += 400
  phone.happen({ kind: 'tick' })
}

const backOff = [1, 3, 7, 15, 31, 61] // after 1, 2, 4, 8, 16 and 30 s

/** The seconds of a minute at which the phone greets the shed, where each line goes as told and then breaks. */
function greetings({ time, phone }: World, onLine: () => void): number[] {
  phone.cut()
  const seconds: number[] = []
  for (let second = 1; second <= 61; second++) {
    time.now += 1000
    phone.happen({ kind: 'tick' })
    if (phone.session.link === 'offline') continue
    phone.carryUp() // the hello
    phone.carryDown()
    expect(['live', 'catching_up']).toContain(phone.session.link)
    seconds.push(second)
    onLine()
    phone.cut()
  }
  return seconds
}

describe('a line that breaks is tried ever more rarely', () => {
  test('where nothing but a welcome came over it', () => {
    expect(greetings(world(), () => {})).toEqual(backOff)
  })

  test('where it answered a ping', () => {
    const here = world()
    expect(greetings(here, () => {
      here.phone.happen({ kind: 'wake' })
      while (here.phone.carryUp() || here.phone.carryDown());
    })).toEqual(backOff)
  })

  test('where the cursor did not move', () => {
    const here = world()
    const { arrival, last } = here.phone.book.reading.cursor!
    const news = newsMessage(arrival, arrival, last, [])
    expect(greetings(here, () => here.phone.happen({ kind: 'message', data: news }))).toEqual(backOff)
  })

  test('where what it brought could not be stored, though the welcome could', () => {
    const here = world()
    const { phone, other, time, shed } = here
    phone.cut()
    other.record(stems('v1', 1))
    heal([other], time, shed)
    expect(greetings(here, () => {
      phone.disk.full = true
      while (phone.carryDown());
      phone.disk.full = false
    })).toEqual(backOff)
  })

  test('where the shed answers busy right after the welcome', () => {
    const here = world()
    const busy = JSON.stringify({ t: 'refuse', code: 'busy', text: '' })
    expect(greetings(here, () => here.phone.happen({ kind: 'message', data: busy }))).toEqual(backOff)
  })

  test('where the same part of a large operation is put aside each time', { timeout: 60_000 }, () => {
    const here = world()
    const { phone, time, shed } = here
    phone.cut()
    phone.record(...codes(4500))
    ripen(phone, time)
    const seconds = greetings(here, () => {
      while (phone.carryDown());
      phone.carryUp() // 2000 changes
      while (phone.carryDown());
      shed.aside.clear()
    })
    expect(shed.pushes).toEqual(seconds.map(() => 2000))
    expect(seconds.length).toBeLessThanOrEqual(backOff.length + 1) // the first one brought something
  })
})

describe('a line that breaks is tried again after a second', () => {
  test('each time that something was acknowledged on it', () => {
    const here = world()
    const { phone } = here
    let n = 0
    phone.cut()
    phone.record(stems('v0', ++n))
    expect(greetings(here, () => {
      while (phone.carryDown());
      phone.happen({ kind: 'tick' })
      phone.carryUp()
      while (phone.carryDown());
      expect(phone.book.drafted).toBe(0)
      phone.record(stems(`v${n}`, ++n))
    }).length).toBeGreaterThan(50)
  })

  test('where it had stood for longer than any wait, though there was nothing to say', () => {
    const here = world()
    const { phone, time, shed } = here
    greetings(here, () => {})
    time.now += 31_000
    phone.happen({ kind: 'tick' })
    heal([phone], time, shed)
    phone.cut()
    expect(phone.session.nextTick()! - time.now).toBe(1000)
  })
})

describe('confirmed', () => {
  const confirmed = (phone: Phone) => statusOf(phone.book, phone.session).acknowledged

  test('is what was acknowledged and not refused, whatever else an acknowledgement repeats', () => {
    const { shed, time, phone } = world()
    shed.refuses = change => (change.value === 1000 ? 'count' : undefined)
    phone.record(stems('v1', 1000))
    heal([phone], time, shed)
    phone.record(stems('v2', 2))
    ripen(phone, time)
    const refused = [{ seq: 1, code: 'count', text: '' }]
    phone.happen({ kind: 'message', data: JSON.stringify({ t: 'ack', seq: 2, staged: 0, refused }) })
    expect(confirmed(phone)).toBe(1)
  })

  test('is what a welcome makes up for', () => {
    const { shed, time, phone } = world()
    phone.record(stems('v1', 1))
    ripen(phone, time)
    while (phone.carryUp());
    phone.cut() // with the acknowledgement
    expect(confirmed(phone)).toBe(0)
    heal([phone], time, shed)
    expect(confirmed(phone)).toBe(1)
  })

  test('is counted once, when it is on disk', () => {
    const { shed, time, phone } = world()
    phone.record(stems('v1', 1))
    ripen(phone, time)
    phone.disk.full = true
    while (phone.carryUp() || phone.carryDown());
    expect(confirmed(phone)).toBe(0)
    phone.disk.full = false
    heal([phone], time, shed)
    expect(confirmed(phone)).toBe(1)
  })
})

describe('the phone is not said to be level', () => {
  const levelAt = (phone: Phone) => statusOf(phone.book, phone.session).levelAt

  test('with what it could not store', () => {
    const { shed, time, phone, other } = world()
    const before = levelAt(phone)
    expect(before).toBeGreaterThan(0)
    shed.wall += 1000
    phone.disk.full = true
    other.record(stems('v1', 5))
    ripen(other, time)
    while (other.carryUp() || phone.carryDown());
    expect(levelAt(phone)).toBe(before)
  })

  test('while more is on its way', () => {
    const { shed, phone } = world()
    const before = levelAt(phone)
    shed.wall += 1000
    const { arrival } = phone.book.reading.cursor!
    phone.happen({ kind: 'message', data: newsMessage(arrival + 1, arrival + 2, 'x', []) })
    expect(phone.book.reading.cursor!.arrival).toBe(arrival + 1)
    expect(levelAt(phone)).toBe(before)
    phone.happen({ kind: 'message', data: newsMessage(arrival + 2, arrival + 2, 'y', []) })
    expect(levelAt(phone)).toBe(shed.wall)
  })

  test('later than the shed was heard: a line may have died while the phone slept', () => {
    const { shed, time, phone } = world()
    const before = levelAt(phone)
    shed.wall += threeHours
    time.now += threeHours
    phone.record(stems('v1', 1))
    ripen(phone, time)
    expect(phone.book.drafted).toBe(0)
    expect(levelAt(phone)).toBe(before)
  })
})
