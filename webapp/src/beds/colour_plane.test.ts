import { describe, expect, it } from 'vitest'
import { difference } from '../colour/difference'
import { chroma } from '../colour/lab'
import { edgeOf, nearestTo, plane, planeScale, uncertainOf, views } from './colour_plane'

const colours = [{ L: 40, a: 50, b: 10 }, { L: 85, a: -2, b: 30 }, { L: 60, a: 20, b: -15 }]

describe.each(views)('the drawing by %s', (view) => {
  it('holds every colour within its frame, to one scale', () => {
    const scale = planeScale(view, colours)
    for (const { x, y } of colours.map((lab) => scale.at(lab))) {
      expect(Math.min(x, plane.width - x, y, plane.height - y)).toBeGreaterThanOrEqual(plane.margin)
    }
    const [from, right, up] = [scale.of({ x: 0, y: 0 }), scale.of({ x: 1, y: 0 }), scale.of({ x: 0, y: 1 })]
    expect(right.x - from.x).toBeCloseTo(from.y - up.y, 9)
    expect(right.x).toBeGreaterThan(from.x) // redder and deeper to the right
    expect(up.y).toBeLessThan(from.y) // yellower and lighter above
  })

  it.each([0, 1, 3])('can be drawn of %d colours', (n) => {
    const { x, y } = planeScale(view, colours.slice(0, n)).at(colours[0]!)
    expect(Number.isFinite(x + y)).toBe(true)
  })

  it('draws a class’s edge where its limit is', () => {
    for (const lab of edgeOf(view, colours[0]!, 5)) expect(difference(colours[0]!, lab).total).toBeCloseTo(5, 2)
  })
})

it('stops a pale class’s edge at grey, and at white', () => {
  const edge = edgeOf('strength', { L: 97, a: 1, b: 1 }, 5)
  expect(Math.min(...edge.map(chroma))).toBeGreaterThanOrEqual(0)
  expect(Math.max(...edge.map(({ L }) => L))).toBeLessThanOrEqual(100)
})

it('draws what a colour may be with nine in ten', () => {
  // In two dimensions nine in ten lie within 2.146 standard deviations: 1 - exp(-2.146^2 / 2).
  const edge = uncertainOf('hue', { lab: { L: 50, a: 10, b: 20 }, cov: { LL: 9, La: 0, Lb: 0, aa: 4, ab: 0, bb: 1 } })
  expect(Math.max(...edge.map(({ x }) => x)) - 10).toBeCloseTo(2 * 2.146, 3)
  expect(Math.max(...edge.map(({ y }) => y)) - 20).toBeCloseTo(2.146, 2)
})

it('finds the nearest mark to a tap, and none that is farther than a fingertip', () => {
  const marks = [{ x: 0, y: 0 }, { x: 10, y: 0 }]
  expect(nearestTo(marks, (one) => one, { x: 7, y: 2 }, 20)).toBe(marks[1])
  expect(nearestTo(marks, (one) => one, { x: 40, y: 40 }, 20)).toBeUndefined()
})
