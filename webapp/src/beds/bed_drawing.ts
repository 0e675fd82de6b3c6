// Where lines and places lie in the plain drawing of a bed: to scale, a long bed cut into stretches that
// stand below one another, so that its lines can be told apart on a phone.

import type { Bed, Place } from '../crop/nouns'
import { reachOf } from '../crop/reach'

export interface Drawing {
  /** Whether the bed's measures are known. */
  readonly toScale: boolean
  /** In how many stretches it is cut; each has the same length. */
  readonly stretches: number
  /** Pixels of one stretch. */
  readonly width: number
  readonly height: number
  /** Places along each line, spread evenly over the length. */
  readonly along: number
  readonly lines: number
  /** Places too far along to be drawn. */
  readonly far: readonly Place[]
  /** A place's room, the lesser of along and across. */
  readonly room: number
}

const mostStretches = 6
const mostHeight = 280
/** A bed without measures is drawn so many times as long as broad, or longer. */
const leastLong = 4
/** So far apart are lines at the least, where few enough stretches allow it. */
const lineRoom = 16

/** Lays a bed out over so many pixels; of an unmeasured bed the form is made up. */
export function drawingOf({ length, width, lines: told }: Pick<Bed, 'length' | 'width' | 'lines'>, places: readonly Place[], pixels: number): Drawing {
  const lines = Math.max(1, told, ...linesOf(places))
  const along = Math.max(1, reachOf(places.map(({ number }) => number), length))
  const far = places.filter(({ number }) => number > along)
  const toScale = length > 0 && width > 0
  const [long, broad] = toScale ? [length, width] : [Math.max(along, leastLong * lines), lines]
  const wanted = Math.ceil((lineRoom * lines * long) / (pixels * broad))
  const stretches = Math.min(mostStretches, Math.max(1, wanted))
  const scale = Math.min(pixels / (long / stretches), mostHeight / broad)
  const drawn = { toScale, stretches, width: (scale * long) / stretches, height: scale * broad, along, lines, far }
  return { ...drawn, room: Math.min((scale * long) / along, (scale * broad) / lines) }
}

function linesOf(places: readonly Place[]): number[] {
  return [...new Set(places.map(({ line }) => line))]
}

export interface Spot {
  readonly stretch: number
  readonly x: number
  readonly y: number
}

/** The middle of a place. */
export function spotOf(d: Drawing, { line, number }: Pick<Place, 'line' | 'number'>): Spot {
  const x = ((number - 0.5) / d.along) * d.width * d.stretches
  const stretch = Math.min(d.stretches - 1, Math.floor(x / d.width))
  return { stretch, x: x - stretch * d.width, y: ((line - 0.5) / d.lines) * d.height }
}

/** Dots as a path of strokes without length, by stretch: with round ends they are discs. */
export function dotPaths(d: Drawing, places: readonly Place[]): string[] {
  const paths = Array.from({ length: d.stretches }, () => '')
  for (const place of places.filter(({ number }) => number <= d.along)) {
    const { stretch, x, y } = spotOf(d, place)
    paths[stretch] += `M${x.toFixed(1)} ${y.toFixed(1)}h0`
  }
  return paths
}

/** Bars across the line, by stretch: told from dots by their form. */
export function barPaths(d: Drawing, places: readonly Place[]): string[] {
  const half = Math.min(4, Math.max(1.5, d.room * 0.4))
  const paths = Array.from({ length: d.stretches }, () => '')
  for (const place of places.filter(({ number }) => number <= d.along)) {
    const { stretch, x, y } = spotOf(d, place)
    paths[stretch] += `M${x.toFixed(1)} ${(y - half).toFixed(1)}v${(2 * half).toFixed(1)}`
  }
  return paths
}
