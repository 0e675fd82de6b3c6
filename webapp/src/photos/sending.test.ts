// The machine that brings photos to the shed, against a small shed and a line that breaks anywhere.

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { PhotoHash } from '../crop/nouns'
import type { Refusal } from './sending'
import { mostAsked } from './sending'
import { type Fault, Phone } from './testing/phone'
import { ShedModel } from './testing/shed_model'

const kib = 1 << 10

function world() {
  const shed = new ShedModel()
  return { shed, phone: new Phone(shed) }
}

/** What the shed was asked, without questions for many. */
function pieces(shed: ShedModel): string[] {
  return shed.log.filter(line => line.startsWith('piece')).map(line => line.slice('piece '.length))
}

describe('sending', () => {
  test('sends nothing without a line, and everything once there is one, the smallest first', () => {
    const { shed, phone } = world()
    const large = phone.take(90 * kib, 1)
    const small = phone.take(20 * kib, 2)
    phone.run()
    expect(shed.log).toEqual([])
    phone.tell({ kind: 'up' })
    phone.run()
    expect([...shed.whole.keys()]).toEqual([small, large])
    expect([...phone.disk.values()].map(({ state }) => state)).toEqual(['sent', 'sent'])
  })

  test('sends what is taken while the line stands', () => {
    const { shed, phone } = world()
    phone.tell({ kind: 'up' })
    phone.run()
    const hash = phone.take(10, 1)
    phone.run()
    expect(shed.whole.has(hash)).toBe(true)
  })

  test('sends no byte of what the shed has from another phone', () => {
    const { shed, phone } = world()
    const other = new Phone(shed)
    other.take(300 * kib, 1)
    other.tell({ kind: 'up' })
    other.run()
    const before = pieces(shed).length
    const hash = phone.take(300 * kib, 1)
    phone.tell({ kind: 'up' })
    phone.run()
    expect(phone.disk.get(hash)?.state).toBe('sent')
    expect(pieces(shed)).toHaveLength(before)
  })

  test('does not send what was taken away, and sends it once it is put back', () => {
    const { shed, phone } = world()
    const hash = phone.take(10, 1)
    phone.away.add(hash)
    phone.tell({ kind: 'up' })
    phone.run()
    expect(shed.log).toEqual([])
    phone.away.delete(hash)
    phone.tell({ kind: 'look' })
    phone.run()
    expect(shed.whole.has(hash)).toBe(true)
  })

  test('leaves off after the piece under way when it is taken away', () => {
    const { shed, phone } = world()
    const hash = phone.take(3000 * kib, 1)
    phone.tell({ kind: 'up' })
    while (pieces(shed).length === 0) phone.step()
    phone.away.add(hash)
    phone.run()
    expect(pieces(shed)).toEqual(['0+262144', '262144+524288'])
  })

  test('asks for 500 at most at once', () => {
    const { shed, phone } = world()
    for (let i = 0; i < mostAsked + 1; i++) phone.take(3, i)
    phone.tell({ kind: 'up' })
    phone.run()
    expect(shed.log.filter(line => line.startsWith('missing'))).toEqual(['missing 500', 'missing 1'])
  })
})

describe('pieces', () => {
  test('double while they come through, up to 1 MiB', () => {
    const { shed, phone } = world()
    phone.take(3000 * kib, 1)
    phone.tell({ kind: 'up' })
    phone.run()
    expect(pieces(shed)).toEqual(['0+262144', '262144+524288', '786432+1048576', '1835008+1048576', '2883584+188416'])
  })

  test('halve after each that takes too long, down to 16 KiB, and what came of one is not sent again', () => {
    const { shed, phone } = world()
    phone.take(300 * kib, 1)
    phone.tell({ kind: 'up' })
    let slow = 6
    phone.fault = () => (shed.log.at(-1) === 'head' && slow-- > 0 ? 'slow' : 'ok')
    phone.run()
    expect(pieces(shed)).toEqual([
      '0+131072', '131072+65536', '196608+32768', '229376+16384', '245760+8192', '253952+8192', '262144+16384', '278528+28672',
    ])
    expect(shed.whole.size).toBe(1)
  })

  test.each([[408, 'slow'], [413, '']])('halve when one is refused with %d', (status, code) => {
    const { shed, phone } = world()
    phone.take(300 * kib, 1)
    phone.tell({ kind: 'up' })
    shed.refuse = () => (pieces(shed).length === 1 ? { status, code, limit: undefined } : undefined)
    phone.run()
    expect(pieces(shed)).toEqual(['0+262144', '0+131072', '131072+176128'])
  })
})

describe('going on after a break', () => {
  test('an answer that was lost costs no byte', () => {
    const { shed, phone } = world()
    phone.take(1000 * kib, 1)
    phone.tell({ kind: 'up' })
    phone.fault = () => (pieces(shed).length === 1 ? 'no_answer' : 'ok')
    phone.run()
    expect(pieces(shed)).toEqual(['0+262144', '262144+524288', '786432+237568'])
    expect(phone.now).toBe(1_000)
  })

  test('an answer that was lost to the last piece is made up for by asking', () => {
    const { shed, phone } = world()
    const hash = phone.take(10, 1)
    phone.tell({ kind: 'up' })
    phone.fault = () => (pieces(shed).length === 0 && shed.log.at(-1) === 'head' ? 'no_answer' : 'ok')
    phone.run()
    expect(pieces(shed)).toEqual(['0+10'])
    expect(phone.disk.get(hash)?.state).toBe('sent')
  })

  test('a killed app goes on from where the shed is', () => {
    const { shed, phone } = world()
    phone.take(600 * kib, 1)
    phone.tell({ kind: 'up' })
    while (pieces(shed).length === 0) phone.step()
    phone.restart()
    phone.tell({ kind: 'up' })
    phone.run()
    expect(pieces(shed)).toEqual(['0+262144', '262144+262144', '524288+90112'])
  })

  test('another phone that sends the same photo is no trouble: it goes on from the offset told', () => {
    const { shed, phone } = world()
    const hash = phone.take(600 * kib, 1)
    phone.tell({ kind: 'up' })
    while (pieces(shed).length === 0) phone.step()
    const other = new Phone(shed)
    other.take(600 * kib, 1)
    other.tell({ kind: 'up' })
    while (pieces(shed).length === 1) other.step()
    const heads = shed.log.filter(line => line === 'head').length
    while (pieces(shed).length < 4) phone.step()
    expect(pieces(shed).slice(2)).toEqual(['262144+352256', '524288+90112'])
    expect(shed.log.filter(line => line === 'head')).toHaveLength(heads)
    expect(shed.whole.has(hash)).toBe(true)
  })

  test('what the shed dropped meanwhile is sent from its beginning', () => {
    const { shed, phone } = world()
    phone.take(600 * kib, 1)
    phone.tell({ kind: 'up' })
    while (pieces(shed).length === 0) phone.step()
    shed.unfinished.clear()
    phone.run()
    expect(shed.whole.size).toBe(1)
    expect(phone.now).toBe(1_000)
  })

  test('what somebody announced with another length begins anew', () => {
    const { shed, phone } = world()
    const hash = phone.take(300 * kib, 1)
    shed.unfinished.set(hash, { size: 17, bytes: new Uint8Array(5) })
    phone.tell({ kind: 'up' })
    phone.run()
    expect(shed.whole.has(hash)).toBe(true)
    expect(phone.now).toBe(0)
  })

  test('bytes that are all there without being a photo yet are asked for with an empty piece', () => {
    const { shed, phone } = world()
    const hash = phone.take(10, 1)
    phone.tell({ kind: 'up' })
    while (pieces(shed).length === 0) phone.step()
    shed.unfinished.set(hash, { size: 10, bytes: shed.whole.get(hash)! })
    shed.whole.clear()
    phone.restart()
    phone.tell({ kind: 'up' })
    phone.disk.set(hash, { ...phone.disk.get(hash)!, state: 'waiting' })
    phone.run()
    expect(pieces(shed)).toEqual(['0+10', '10+0'])
    expect(shed.whole.has(hash)).toBe(true)
  })

  test.each([
    ['has all bytes and never a photo', 10],
    ['says yes and takes nothing', 0],
  ])('a shed that %s is not asked without end', (_, offset) => {
    const { shed, phone } = world()
    phone.take(10, 1)
    const state = { kind: 'has', offset, whole: false, length: offset } as const
    shed.head = () => state
    shed.piece = (_hash, _size, at, piece) => (shed.log.push(`piece ${at}+${piece.length}`), state)
    phone.tell({ kind: 'up' })
    for (let i = 0; i < 100; i++) phone.step()
    expect(pieces(shed)).toHaveLength(1)
    expect(phone.nextLook).toBe(1_000)
  })

  test('waits 1 s, twice as long after each failure, 5 min at most, and begins anew once it got further', () => {
    const { phone } = world()
    phone.take(10, 1)
    phone.fault = () => 'lost'
    phone.tell({ kind: 'up' })
    const waits: number[] = []
    for (let i = 0; i < 11; i++) {
      while (phone.step());
      waits.push(phone.nextLook! - phone.now)
      phone.now = phone.nextLook!
      phone.tell({ kind: 'look' })
    }
    expect(waits).toEqual([1, 2, 4, 8, 16, 32, 64, 128, 256, 300, 300].map(s => s * 1000))
    phone.fault = () => 'ok'
    phone.run()
    phone.take(11, 2)
    phone.fault = () => 'lost'
    phone.tell({ kind: 'look' })
    while (phone.step());
    expect(phone.nextLook! - phone.now).toBe(1_000)
  })

  test('a moment that was missed is no reason to wait for ever', () => {
    const { shed, phone } = world()
    phone.take(10, 1)
    phone.fault = () => 'lost'
    phone.tell({ kind: 'up' })
    while (phone.step());
    phone.fault = () => 'ok'
    phone.now = 999.9 // a timer may come early by the other clock
    phone.tell({ kind: 'look' })
    phone.now = 1_000.1
    expect(phone.nextLook).toBe(1_000)
    phone.run()
    expect(shed.whole.size).toBe(1)
  })

  test('does not wait once the line stands anew, and hears no answer of before', () => {
    const { shed, phone } = world()
    const hash = phone.take(600 * kib, 1)
    phone.fault = () => 'lost'
    phone.tell({ kind: 'up' })
    while (phone.step());
    expect(phone.nextLook).toBe(1_000)
    phone.tell({ kind: 'down' })
    expect(phone.nextLook).toBeUndefined()
    phone.fault = () => 'ok'
    phone.tell({ kind: 'up' })
    phone.tell({ kind: 'answer', turn: 1, answer: { kind: 'has', offset: 600 * kib, whole: true, length: 600 * kib } })
    phone.run()
    expect(phone.now).toBe(0)
    expect(shed.whole.has(hash)).toBe(true)
  })
})

describe('a shed that was restored', () => {
  test('gets again what it lacks and the phone still has, and nothing else', () => {
    const { shed, phone } = world()
    const [lost, kept] = [phone.take(10, 1), phone.take(20, 2)]
    phone.tell({ kind: 'up' })
    phone.run()
    shed.whole.delete(lost)
    phone.tell({ kind: 'down' })
    phone.tell({ kind: 'up' })
    phone.run()
    expect([...shed.whole.keys()].sort()).toEqual([lost, kept].sort())
    expect(pieces(shed)).toEqual(['0+10', '0+20', '0+10'])
  })

  test('is asked once a line, and not again for what it takes on it', () => {
    const { shed, phone } = world()
    phone.take(10, 1)
    phone.tell({ kind: 'up' })
    phone.run()
    phone.take(20, 2)
    phone.run()
    phone.tell({ kind: 'look' })
    phone.run()
    expect(shed.log.filter(line => line.startsWith('missing'))).toEqual(['missing 1'])
  })
})

describe('refusals', () => {
  test.each<[string, Partial<Refusal>, string]>([
    ['no picture', { status: 422, code: 'type' }, 'type'],
    ['too many pixels', { status: 422, code: 'pixels' }, 'pixels'],
    ['a damaged picture', { status: 422, code: 'damaged' }, 'damaged'],
    ['something behind the picture', { status: 422, code: 'trailing' }, 'trailing'],
    ['more bytes than a photo may have', { status: 413, code: 'too_large', limit: 5 }, 'too_large'],
  ])('%s stays on the phone with its reason, and others go on', (_, refused, want) => {
    const { shed, phone } = world()
    const [bad, good] = [phone.take(10, 1), phone.take(20, 2)]
    shed.refuse = hash => (hash === bad ? refused : undefined)
    phone.tell({ kind: 'up' })
    phone.run()
    expect(phone.disk.get(bad)).toMatchObject({ state: 'waiting', refusal: want })
    expect(shed.whole.has(good)).toBe(true)
    const asked = shed.log.length
    phone.tell({ kind: 'down' })
    phone.tell({ kind: 'up' })
    phone.run()
    expect(pieces(shed)).toEqual(['0+10', '0+20'])
    expect(shed.log.slice(asked)).toEqual(['missing 1'])
  })

  test.each([
    ['what came is not the photo', { status: 422, code: 'hash' }],
    ['something that this app does not know', { status: 418, code: 'teapot' }],
  ])('where the reason is %s, others go first and it is tried again after 5 min', (_, refused) => {
    const { shed, phone } = world()
    const [bad, good] = [phone.take(10, 1), phone.take(20, 2)]
    let times = 1
    shed.refuse = hash => (hash === bad && times-- > 0 ? refused : undefined)
    phone.tell({ kind: 'up' })
    phone.run(200_000)
    expect([...shed.whole.keys()]).toEqual([good])
    phone.run()
    expect([...shed.whole.keys()]).toEqual([good, bad])
    expect(phone.now).toBe(300_000)
  })

  test('what waits for 5 min is tried at once where the line stands anew', () => {
    const { shed, phone } = world()
    phone.take(10, 1)
    let times = 1
    shed.refuse = () => (times-- > 0 ? { status: 418, code: 'teapot' } : undefined)
    phone.tell({ kind: 'up' })
    phone.run(200_000)
    phone.tell({ kind: 'down' })
    phone.tell({ kind: 'up' })
    phone.run(200_000)
    expect(shed.whole.size).toBe(1)
  })

  test.each([['full', 507], ['no_room', 507], ['crowded', 503]])('a shed that is %s is told of, and tried again', (code, status) => {
    const { shed, phone } = world()
    phone.take(10, 1)
    let times = 2
    shed.refuse = () => (times-- > 0 ? { status, code } : undefined)
    phone.tell({ kind: 'up' })
    phone.run(500)
    expect(phone.trouble).toBe(code)
    phone.run()
    expect(phone.trouble).toBe('')
    expect(phone.now).toBe(3_000)
    expect(shed.whole.size).toBe(1)
  })

  test.each([401, 403])('%d is no refusal of the photo: it waits long, or for the next line', status => {
    const { shed, phone } = world()
    const hash = phone.take(10, 1)
    shed.refuse = () => ({ status, code: 'role' })
    phone.tell({ kind: 'up' })
    while (phone.step());
    expect(phone.nextLook).toBe(300_000)
    expect(phone.disk.get(hash)).toMatchObject({ state: 'waiting', refusal: '' })
    shed.refuse = undefined
    phone.tell({ kind: 'down' })
    phone.tell({ kind: 'up' })
    phone.run()
    expect(shed.whole.has(hash)).toBe(true)
  })

  test('a mark that cannot be stored stops nobody else', () => {
    const { shed, phone } = world()
    phone.take(10, 1)
    phone.take(20, 2)
    phone.diskFails = true
    phone.tell({ kind: 'up' })
    phone.run(200_000)
    expect(shed.whole.size).toBe(2)
    phone.diskFails = false
    phone.run()
    expect([...phone.disk.values()].map(({ state }) => state)).toEqual(['sent', 'sent'])
    expect(pieces(shed)).toEqual(['0+10', '0+20'])
  })
})

test('whatever is lost, killed or restored, every photo comes to the shed whole', { timeout: 60_000 }, () => {
  const fault = fc.constantFrom<Fault>('ok', 'ok', 'ok', 'lost', 'half', 'no_answer', 'slow')
  const upset = fc.oneof(
    { weight: 12, arbitrary: fc.record({ kind: fc.constant('steps' as const), n: fc.integer({ min: 1, max: 12 }), faults: fc.array(fault, { minLength: 1, maxLength: 6 }) }) },
    fc.record({ kind: fc.constantFrom('restart' as const, 'down' as const, 'up' as const, 'restored' as const, 'dropped' as const, 'other' as const) }),
    fc.record({ kind: fc.constant('take' as const), size: fc.integer({ min: 1, max: 300 * kib }), seed: fc.nat(5) }),
  )
  fc.assert(fc.property(fc.array(upset, { maxLength: 25 }), upsets => {
    const { shed, phone } = world()
    const other = new Phone(shed)
    const taken = new Set<PhotoHash>([phone.take(270 * kib, 0)])
    for (const one of upsets) {
      if (one.kind === 'take') taken.add(phone.take(one.size, one.seed))
      if (one.kind === 'restart') phone.restart()
      if (one.kind === 'down' || one.kind === 'up') phone.tell({ kind: one.kind })
      if (one.kind === 'dropped') shed.unfinished.clear()
      if (one.kind === 'other') {
        other.take(270 * kib, 0)
        other.tell({ kind: 'up' })
        for (let i = 0; i < 3; i++) other.step()
      }
      if (one.kind === 'restored') {
        shed.whole.clear()
        shed.unfinished.clear()
        phone.tell({ kind: 'down' })
      }
      if (one.kind !== 'steps') continue
      let i = 0
      phone.fault = () => one.faults[i++ % one.faults.length]!
      for (let n = 0; n < one.n; n++) {
        if (phone.step() || phone.nextLook === undefined) continue
        phone.now = phone.nextLook
        phone.tell({ kind: 'look' })
      }
    }
    phone.fault = () => 'ok'
    phone.tell({ kind: 'down' })
    phone.tell({ kind: 'up' })
    phone.run()
    expect([...taken].filter(hash => !shed.whole.has(hash))).toEqual([])
    expect([...phone.disk.values()].filter(({ state }) => state !== 'sent')).toEqual([])
    expect(shed.unfinished.size).toBe(0)
  }), { numRuns: 100 })
})
