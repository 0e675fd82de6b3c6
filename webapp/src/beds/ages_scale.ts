// Where things stand in the drawing of stems by age.

import type { Age } from './ages'

export const drawing = { width: 348, height: 300, left: 38, right: 8, top: 12, bottom: 34 } as const

export interface Scale {
  /** Stems at which a line is drawn, from 0. */
  readonly ticks: readonly number[]
  readonly x: (index: number) => number
  readonly step: number
  readonly y: (stems: number) => number
}

export function scaleFor(ages: readonly Age[]): Scale {
  const ticks = ticksTo(Math.max(1, ...ages.flatMap(({ stems, plants }) => [stems.hi, stems.new_hi, ...plants.map((dot) => dot.stems)])))
  const most = ticks.at(-1) ?? 1
  const step = (drawing.width - drawing.left - drawing.right) / Math.max(1, ages.length)
  const bottom = drawing.height - drawing.bottom
  return {
    ticks, step,
    x: (index) => drawing.left + step * (index + 0.5),
    y: (stems) => bottom - (stems / most) * (bottom - drawing.top),
  }
}

/** Four or five round steps that reach the largest number. */
export function ticksTo(largest: number): number[] {
  const rough = largest / 4
  const power = 10 ** Math.floor(Math.log10(rough))
  const step = Math.max(1, [1, 2, 2.5, 5, 10].map((m) => m * power).find((s) => s >= rough && (power > 1 || Number.isInteger(s))) ?? 1)
  const n = Math.ceil(largest / step)
  return Array.from({ length: n + 1 }, (_, i) => i * step)
}

/** Sideways scatter of a dot in [-0.5, 0.5): the golden ratio's multiples spread evenly. */
export function jitter(index: number): number {
  return ((index * 0.618_033_988_749_895) % 1) - 0.5
}
