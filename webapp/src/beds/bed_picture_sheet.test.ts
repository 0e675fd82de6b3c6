import { describe, expect, it, test } from 'vitest'
import type { Millimetres } from '../crop/nouns'
import { type Ground, spotOf } from './bed_picture_ground'
import { onSheet, sheetFor } from './bed_picture_sheet'
import { againSeen, fitted, mostZoom, moved, showing, zoomedAt } from './bed_picture_view'

function ground(length: number, width: number, lines: number, numbers: number): Ground {
  const pitch = Math.min(length / numbers, width / lines)
  return { length: length as Millimetres, width: width as Millimetres, lines, numbers, measured: true, pitch }
}

const none = 0
const edge = 13
const phone = { width: 328, height: 430 }
const laptop = { width: 700, height: 480 }
const rooms = [['a phone', phone], ['a laptop', laptop]] as const
const beds = [
  ['a short one', ground(2_400, 1_200, 3, 6)], ['of 72 plants', ground(9_600, 1_200, 3, 24)],
  ['of 2,000 plants', ground(160_000, 1_500, 5, 400)], ['of a prime length', ground(9_400, 1_200, 3, 47)], ['of one place', ground(400, 400, 1, 1)],
] as const

describe.each(rooms)('on %s', (_, room) => {
  test.each(beds)('a bed %s lies within the room, each place once, and nothing of it twice', (_, bed) => {
    const sheet = sheetFor(bed, room, edge)
    expect(sheet.width).toBeLessThanOrEqual(room.width + 1e-6)
    expect(sheet.height).toBeLessThanOrEqual(room.height + 1e-6)
    expect(sheet.strips.flatMap(({ from, to }) => Array.from({ length: to - from + 1 }, (_, i) => from + i)))
      .toEqual(Array.from({ length: bed.numbers }, (_, i) => i + 1))
    for (let number = 1; number <= bed.numbers; number++) {
      const { u, v } = onSheet(sheet, spotOf(bed, 1, number))
      const inside = sheet.strips.filter((s) => u >= s.u && u <= s.u + s.width && v >= s.v && v <= s.v + s.height)
      expect(inside.map(({ from, to }) => number >= from && number <= to)).toEqual([true])
    }
  })

  test.each(beds)('a bed %s is to scale: a metre along is a metre across', (_, bed) => {
    const sheet = sheetFor(bed, room, edge)
    const at = (x: number, y: number) => onSheet(sheet, { x, y })
    const far = (a: { u: number; v: number }, b: { u: number; v: number }) => Math.hypot(a.u - b.u, a.v - b.v)
    expect(far(at(0, 0), at(100, 0))).toBeCloseTo(far(at(0, 0), at(0, 100)))
  })
})

it('lies along the longer side, turned and not mirrored', () => {
  const bed = ground(9_600, 1_200, 3, 24)
  const turn = (room: typeof phone) => {
    const sheet = sheetFor(bed, room, none)
    const [o, x, y] = [onSheet(sheet, { x: 0, y: 0 }), onSheet(sheet, { x: 100, y: 0 }), onSheet(sheet, { x: 0, y: 100 })]
    return { down: x.v > o.v, hand: Math.sign((x.u - o.u) * (y.v - o.v) - (x.v - o.v) * (y.u - o.u)) }
  }
  expect(turn(phone).down).toBe(true)
  expect(turn(laptop).down).toBe(false)
  expect(turn(phone).hand).toBe(turn(laptop).hand)
})

it('is cut only where that draws it much larger', () => {
  expect(sheetFor(ground(3_000, 2_000, 5, 8), phone, none).strips).toHaveLength(1)
  const long = ground(96_000, 1_200, 3, 240)
  const cut = sheetFor(long, phone, none)
  expect(cut.strips.length).toBeGreaterThan(3)
  expect(cut.scale).toBeGreaterThan(3 * (phone.height / long.length))
})

describe('the view', () => {
  const sheet = sheetFor(ground(9_600, 1_200, 3, 24), phone, edge)
  const whole = fitted(sheet, phone)
  const seen = { x: 200, y: 300 }

  it('zooms about a point', () => {
    const view = zoomedAt(whole, 2, seen, sheet, phone)
    const at = (v: typeof view) => ({ u: (seen.x - v.x) / v.zoom, v: (seen.y - v.y) / v.zoom })
    expect(at(view).v).toBeCloseTo(at(whole).v)
    expect(view.zoom).toBe(2)
  })

  it('never zooms out of the sheet, nor in without end', () => {
    expect(zoomedAt(whole, 0.1, seen, sheet, phone)).toEqual(whole)
    expect(zoomedAt(whole, 1e6, seen, sheet, phone).zoom).toBe(mostZoom(sheet))
  })

  it('never leaves the sheet', () => {
    const view = zoomedAt(whole, 3, seen, sheet, phone)
    const far = moved(view, { x: 1e6, y: -1e6 }, sheet, phone)
    expect(far.x).toBe(0)
    expect(far.y).toBeCloseTo(phone.height - sheet.height * 3)
  })

  it('shows the same part after the room changed', () => {
    const view = zoomedAt(whole, 3, seen, sheet, phone)
    const low = { width: phone.width, height: 380 }
    const now = sheetFor(sheet.ground, low, edge)
    const again = againSeen(view, sheet, phone, now, low)
    expect(again.zoom).toBe(3)
    expect((low.height / 2 - again.y) / now.height).toBeCloseTo((phone.height / 2 - view.y) / sheet.height)
  })

  it('moves to a head that is out of sight, and stays where it is in sight', () => {
    const view = zoomedAt(whole, 3, { x: 0, y: 0 }, sheet, phone)
    expect(showing(view, 60, 60, sheet, phone)).toBe(view)
    const { y } = showing(view, 60, sheet.height - 20, sheet, phone)
    expect(y).toBeLessThan(view.y)
  })
})
