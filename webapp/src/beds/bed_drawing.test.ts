import { describe, expect, it } from 'vitest'
import type { BedID, Millimetres, Place } from '../crop/nouns'
import { barPaths, dotPaths, drawingOf, spotOf } from './bed_drawing'

const ground = (length: number, width: number, lines: number) => ({ length: length as Millimetres, width: width as Millimetres, lines })
const place = (line: number, number: number): Place => ({ bed: 'b' as BedID, line, number })

describe('the drawing of a bed', () => {
  it.each([
    ['short enough to be whole', ground(6_000, 1_200, 3), 1],
    ['long and narrow, in as many stretches as its lines need', ground(30_000, 1_200, 4), 5],
    ['so long that more stretches would not fit, in six', ground(200_000, 1_000, 4), 6],
    ['broader than long, lower than the screen', ground(2_000, 10_000, 4), 1],
  ])('%s, is to scale', (_, bed, stretches) => {
    const d = drawingOf(bed, [], 320)
    expect([d.toScale, d.stretches]).toEqual([true, stretches])
    expect(d.height / (d.width * d.stretches)).toBeCloseTo(bed.width / bed.length, 6)
    expect(d.width).toBeLessThanOrEqual(320)
    expect(d.height).toBeLessThanOrEqual(280)
  })

  it('without measures is not to scale, with room for every place', () => {
    const d = drawingOf(ground(0, 0, 2), [place(1, 18), place(3, 4)], 320)
    expect([d.toScale, d.lines, d.along]).toEqual([false, 3, 18])
  })

  it('keeps every place within its stretch, and each place of its own', () => {
    const bed = ground(30_000, 1_200, 4)
    const places = [1, 2, 3, 4].flatMap((line) => Array.from({ length: 70 }, (_, i) => place(line, i + 1)))
    const d = drawingOf(bed, places, 320)
    const spots = places.map((one) => spotOf(d, one))
    expect(spots.every(({ stretch, x, y }) => stretch >= 0 && stretch < d.stretches && x >= 0 && x <= d.width && y > 0 && y < d.height)).toBe(true)
    expect(new Set(spots.map(({ stretch, x, y }) => `${stretch} ${x.toFixed(3)} ${y.toFixed(3)}`)).size).toBe(places.length)
    expect(spotOf(d, place(1, 2))).toMatchObject({ stretch: 0 })
    expect(spotOf(d, place(1, 70))).toMatchObject({ stretch: d.stretches - 1 })
  })

  it.each([
    ['measured', ground(30_000, 1_200, 4)],
    ['of unknown length', ground(0, 0, 4)],
  ])('of a bed %s leaves its places where they are beside one that is too far along, which is told', (_, bed) => {
    const places = [place(1, 1), place(2, 70)]
    const [d, slipped] = [drawingOf(bed, places, 320), drawingOf(bed, [...places, place(2, 9_999)], 320)]
    expect(slipped).toEqual({ ...d, far: [place(2, 9_999)] })
    for (const paths of [dotPaths, barPaths]) expect(paths(slipped, [...places, place(2, 9_999)])).toEqual(paths(d, places))
  })

  it('draws what stands and what is filled by different forms', () => {
    const d = drawingOf(ground(9_000, 1_000, 1), [place(1, 2)], 320)
    expect(dotPaths(d, [place(1, 1)])[0]).toMatch(/^M[\d.]+ [\d.]+h0$/)
    expect(barPaths(d, [place(1, 1)])[0]).toMatch(/^M[\d.]+ [\d.]+v[\d.]+$/)
  })
})
