// Where a season's sums lie in their picture.

import type { WarmDay } from '../crop/season_warmth'

export const drawing = { width: 640, height: 300, left: 78, right: 12, top: 22, bottom: 34 } as const

export interface WarmthScale {
  readonly x: (day: number) => number
  readonly y: (sum: number) => number
  /** Sums at which a line is drawn. */
  readonly ticks: readonly number[]
}

/** Days in numbers from the season's spring. */
export function warmthScale(first: number, last: number, most: number): WarmthScale {
  const { width, height, left, right, top, bottom } = drawing
  const step = tickStep(most)
  const highest = Math.max(step, Math.ceil(most / step) * step)
  return {
    x: (day) => left + ((day - first) / Math.max(1, last - first)) * (width - left - right),
    y: (sum) => height - bottom - (sum / highest) * (height - top - bottom),
    ticks: Array.from({ length: Math.round(highest / step) + 1 }, (_, i) => i * step),
  }
}

function tickStep(most: number): number {
  const rough = Math.max(most, 1) / 4
  const power = 10 ** Math.floor(Math.log10(rough))
  return power * ([1, 2, 5, 10].find((n) => n * power >= rough) ?? 10)
}

/** The paths of told and of estimated days; each estimated piece begins and ends at a told day. */
export function warmthPaths(from: number, days: readonly WarmDay[], shown: (sum: number) => number, { x, y }: WarmthScale): { readonly told: string; readonly estimated: string } {
  const at = (i: number) => `${x(from + i).toFixed(1)} ${y(shown(days[i]!.sum)).toFixed(1)}`
  const told: string[] = []
  const estimated: string[] = []
  days.forEach((day, i) => {
    const piece = i > 0 && day.told && days[i - 1]!.told ? `L${at(i)}` : `M${at(i)}`
    if (day.told) told.push(piece)
    if (i > 0 && !(day.told && days[i - 1]!.told)) estimated.push(`M${at(i - 1)}L${at(i)}`)
  })
  return { told: told.join(''), estimated: estimated.join('') }
}

/** Room that a name takes, on a phone too, where text is larger in the drawing (season.css). */
const nameHeight = 34
const nameWidth = 150

/** Names at the ends of lines, moved down where they would lie on those above them. */
export function namesApart<T extends { readonly x: number; readonly y: number }>(names: readonly T[]): T[] {
  const placed: T[] = []
  for (const name of [...names].sort((a, b) => a.y - b.y)) {
    const above = placed.filter(({ x }) => Math.abs(x - name.x) < nameWidth).map(({ y }) => y + nameHeight)
    placed.push({ ...name, y: Math.max(name.y, ...above, drawing.top) })
  }
  return placed
}
