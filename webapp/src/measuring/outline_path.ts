// An outline as the data of an SVG path.

import type { Point } from '../colourcard/measurement'

export function pathOf(points: readonly Point[], closed = true): string {
  const written = points.map(({ x, y }) => `${Math.round(x)} ${Math.round(y)}`)
  return written.length === 0 ? '' : `M${written.join('L')}${closed ? 'Z' : ''}`
}
