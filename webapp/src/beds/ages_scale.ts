// Where things stand in the drawing of stems by age.

import { ticksTo } from '../ui/ticks'
import type { Age } from './ages_report'

export const drawing = { width: 348, height: 300, left: 38, right: 8, top: 12, bottom: 34 } as const

export interface Scale {
  /** Stems at which a line is drawn, from 0. */
  readonly ticks: readonly number[]
  readonly x: (index: number) => number
  readonly step: number
  readonly y: (stems: number) => number
}

/** The scale that holds every dot, every range and the means' upper ends. */
export function scaleFor(ages: readonly Age[], ends: readonly number[]): Scale {
  const ticks = ticksTo(Math.max(1, ...ends, ...ages.flatMap(({ stems, plants }) => [stems.new_hi, ...plants.map((dot) => dot.stems)])))
  const most = ticks.at(-1) ?? 1
  const step = (drawing.width - drawing.left - drawing.right) / Math.max(1, ages.length)
  const bottom = drawing.height - drawing.bottom
  return {
    ticks, step,
    x: (index) => drawing.left + step * (index + 0.5),
    y: (stems) => bottom - (stems / most) * (bottom - drawing.top),
  }
}

/** A line along which intervals lie. */
export interface Line {
  readonly from: number
  readonly to: number
}

/** A line from nought that holds every value. */
export function lineFromZero(values: readonly number[]): Line {
  return { from: 0, to: ticksTo(Math.max(1, ...values)).at(-1) ?? 1 }
}

/** A line that begins and ends at round numbers around the values. */
export function lineAround(values: readonly number[], step: number): Line {
  const from = Math.floor(Math.min(...values) / step) * step
  return { from, to: Math.max(from + step, Math.ceil(Math.max(...values) / step) * step) }
}

/** Where a value lies on a line, in hundredths of its length. */
export function along(line: Line, value: number): number {
  return ((value - line.from) / (line.to - line.from)) * 100
}

/** Sideways scatter of a dot in [-0.5, 0.5): the golden ratio's multiples spread evenly. */
export function jitter(index: number): number {
  return ((index * 0.618_033_988_749_895) % 1) - 0.5
}
