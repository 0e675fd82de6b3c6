// Where the price a stem of each week lies in its picture.

import { addDays, daysBetween } from '../crop/day'
import type { Day } from '../crop/nouns'
import { ticksTo } from '../ui/ticks'
import type { Row } from './books'

export const drawing = { width: 640, height: 260, left: 74, right: 16, top: 14, bottom: 34 } as const

export interface PricePoint {
  /** A Monday. */
  readonly week: Day
  /** Cents with parts. */
  readonly cents: number
  readonly stems: number
}

/** Weeks in which stems were sold, in order. */
export function pricePoints(rows: readonly Row[]): PricePoint[] {
  return rows.flatMap(({ key, price_a_stem: cents, stems }) => (key === '' || cents === null ? [] : [{ week: key as Day, cents, stems }]))
    .sort((a, b) => (a.week < b.week ? -1 : 1))
}

export interface PriceLine {
  readonly points: readonly { readonly x: number; readonly y: number }[]
  /** Joins weeks that follow each other; a week without sales breaks it. */
  readonly path: string
  /** Cents at which a line is drawn, from 0. */
  readonly ticks: readonly { readonly cents: number; readonly y: number }[]
}

export function priceLine(points: readonly PricePoint[]): PriceLine {
  const { width, height, left, right, top, bottom } = drawing
  const ticks = ticksTo(Math.max(1, ...points.map(({ cents }) => cents)))
  const most = ticks.at(-1) ?? 1
  const first = points[0]?.week
  const span = Math.max(1, first === undefined ? 1 : daysBetween(first, points.at(-1)!.week))
  const y = (cents: number) => height - bottom - (Math.max(0, cents) / most) * (height - top - bottom)
  const at = points.map(({ week, cents }) => ({ x: left + (daysBetween(first!, week) / span) * (width - left - right), y: y(cents) }))
  const path = at.map((one, i) => `${i > 0 && addDays(points[i - 1]!.week, 7) === points[i]!.week ? 'L' : 'M'}${one.x.toFixed(1)} ${one.y.toFixed(1)}`).join('')
  return { points: at, path, ticks: ticks.map((cents) => ({ cents, y: y(cents) })) }
}
