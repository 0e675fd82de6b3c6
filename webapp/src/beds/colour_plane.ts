// Where colours lie in the two drawings of a stand: from green to red and blue to yellow, and from pale to deep and
// dark to light. One unit is as long across as up.

import { difference } from '../colour/difference'
import { chroma, type Lab } from '../colour/lab'
import type { MeasuredColour } from '../crop/measured_colour'

export type View = 'hue' | 'strength'
export const views: readonly View[] = ['hue', 'strength']

export interface Point {
  readonly x: number
  readonly y: number
}

/** The drawing's own units; the words of the axes stand in the margin. */
export const plane = { width: 400, height: 360, margin: 26 } as const

/** Across and up, in CIELAB units. */
export function placeIn(view: View, lab: Lab): Point {
  return view === 'hue' ? { x: lab.a, y: lab.b } : { x: chroma(lab), y: lab.L }
}

export interface PlaneScale {
  readonly view: View
  /** Pixels of the drawing a unit. */
  readonly unit: number
  at(lab: Lab): Point
  /** Of a place across and up. */
  of(point: Point): Point
}

/** Leaves room for marks at the edges. */
const padding = 4
/** Of a stand of one colour. */
const leastSpan = 24

/** A scale that holds all colours. */
export function planeScale(view: View, colours: readonly Lab[]): PlaneScale {
  const places = colours.map((lab) => placeIn(view, lab))
  const across = rangeOf(places.map(({ x }) => x))
  const up = rangeOf(places.map(({ y }) => y))
  const [width, height] = [plane.width - 2 * plane.margin, plane.height - 2 * plane.margin]
  const unit = Math.min(width / across.span, height / up.span)
  const of = ({ x, y }: Point) => ({ x: plane.width / 2 + (x - across.middle) * unit, y: plane.height / 2 - (y - up.middle) * unit })
  return { view, unit, of, at: (lab) => of(placeIn(view, lab)) }
}

function rangeOf(values: readonly number[]): { readonly middle: number; readonly span: number } {
  if (values.length === 0) return { middle: 0, span: leastSpan }
  const lo = values.reduce((a, b) => Math.min(a, b)) - padding
  const hi = values.reduce((a, b) => Math.max(a, b)) + padding
  return { middle: (lo + hi) / 2, span: Math.max(leastSpan, hi - lo) }
}

const corners = 48
/** No class reaches farther. */
const farthest = 80

/** The colours that lie a limit away from a class's own, all round: of its own lightness, or of its own hue. */
export function edgeOf(view: View, lab: Lab, limit: number): readonly Lab[] {
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * i) / corners
    const [x, y] = [Math.cos(angle), Math.sin(angle)]
    return reach(lab, limit, (by) => moved(view, lab, { x: x * by, y: y * by }))
  })
}

/** A colour that was moved across and up; paler than grey it is grey. */
function moved(view: View, lab: Lab, by: Point): Lab {
  if (view === 'hue') return { L: lab.L, a: lab.a + by.x, b: lab.b + by.y }
  const from = chroma(lab)
  const [a, b] = from === 0 ? [1, 0] : [lab.a / from, lab.b / from]
  const to = Math.max(0, from + by.x)
  return { L: Math.min(100, Math.max(0, lab.L + by.y)), a: to * a, b: to * b }
}

function reach(from: Lab, limit: number, at: (by: number) => Lab): Lab {
  let [inside, outside] = [0, farthest]
  for (let i = 0; i < 24; i++) {
    const middle = (inside + outside) / 2
    if (difference(from, at(middle)).total < limit) inside = middle
    else outside = middle
  }
  return at(inside)
}

/** Within so many standard deviations lies nine in ten of a normal in two dimensions. */
const nineInTen = Math.sqrt(2 * Math.log(10))

/** The edge of what a measured colour may be, with nine in ten, as places across and up. */
export function uncertainOf(view: View, colour: MeasuredColour): readonly Point[] {
  const { xx, xy, yy } = covarianceIn(view, colour)
  const l11 = Math.sqrt(Math.max(0, xx))
  const l21 = l11 === 0 ? 0 : xy / l11
  const l22 = Math.sqrt(Math.max(0, yy - l21 * l21))
  const middle = placeIn(view, colour.lab)
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * i) / corners
    const [u, v] = [nineInTen * Math.cos(angle), nineInTen * Math.sin(angle)]
    return { x: middle.x + l11 * u, y: middle.y + l21 * u + l22 * v }
  })
}

function covarianceIn(view: View, { lab, cov }: MeasuredColour): { readonly xx: number; readonly xy: number; readonly yy: number } {
  if (view === 'hue') return { xx: cov.aa, xy: cov.ab, yy: cov.bb }
  const strength = chroma(lab)
  const [a, b] = strength === 0 ? [1, 0] : [lab.a / strength, lab.b / strength]
  return { xx: cov.aa * a * a + 2 * cov.ab * a * b + cov.bb * b * b, xy: cov.La * a + cov.Lb * b, yy: cov.LL }
}

/** A closed line through points of the drawing, in the words of SVG. */
export function closed(points: readonly Point[]): string {
  return points.length === 0 ? '' : `M${points.map(({ x, y }) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`
}

/** The nearest of some points to one, where it is near enough. */
export function nearestTo<T>(all: readonly T[], at: (one: T) => Point, to: Point, within: number): T | undefined {
  let [nearest, least]: [T | undefined, number] = [undefined, within]
  for (const one of all) {
    const { x, y } = at(one)
    const away = Math.hypot(x - to.x, y - to.y)
    if (away <= least) [nearest, least] = [one, away]
  }
  return nearest
}
