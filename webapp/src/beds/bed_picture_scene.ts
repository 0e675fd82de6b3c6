// A season's picture laid out on a sheet, and which of its heads a finger means.

import type { Head, Picture } from './bed_picture'
import { onSheet, type Point, type Sheet } from './bed_picture_sheet'
import { type Look, shapeOf } from './bed_picture_sprites'
import type { ScreenPoint, View } from './bed_picture_view'

/** A head on the sheet, in its pixels at zoom 1. */
export interface Dot extends Point {
  readonly head: Head
  readonly look: Look
  readonly r: number
}

/** What is drawn, laid out: made anew for another season, and kept while it moves. */
export interface Scene {
  readonly sheet: Sheet
  /** In the order in which they are drawn. */
  readonly dots: readonly Dot[]
  readonly gaps: readonly Point[]
  /** Heads with a ring, a flag or a drift. */
  readonly marked: readonly Dot[]
}

export function sceneOf(picture: Picture, sheet: Sheet): Scene {
  const dots = picture.heads.map((head): Dot => ({ head, look: lookOf(head), ...onSheet(sheet, head.at), r: head.radius * sheet.scale }))
  // What is gone lies lowest, a seedling at a plant's foot uppermost; small heads over large ones.
  dots.sort((a, b) => rank(a) - rank(b) || b.r - a.r)
  const gaps = picture.gaps.map((spot) => onSheet(sheet, spot))
  return { sheet, dots, gaps, marked: dots.filter(({ head }) => head.flags.length > 0 || head.told?.drift) }
}

function lookOf(head: Head): Look {
  return { shape: shapeOf(head), swatch: head.swatch, open: head.told?.by === 'eye' }
}

function rank({ head }: Dot): number {
  return head.gone ? 0 : head.seedling ? 2 : 1
}

/** Of the dot that stands for who is gone, in CSS pixels. */
export function gapRadius(pitch: number): number {
  return Math.max(1.6, Math.min(4, pitch * 0.09))
}

const leastRadius = 2.2

export function radius({ r }: Dot, view: View): number {
  return Math.max(leastRadius, r * view.zoom)
}

export function at({ u, v }: Point, { zoom, x, y }: View): ScreenPoint {
  return { x: u * zoom + x, y: v * zoom + y }
}

/** The room of a place in pixels, as they are seen. */
export function pitchSeen({ sheet }: Scene, { zoom }: View): number {
  return sheet.ground.pitch * sheet.scale * zoom
}

/** The head nearest to a point, within reach of a finger. */
export function nearest({ dots }: Scene, view: View, point: ScreenPoint): Dot | undefined {
  let [found, far] = [undefined as Dot | undefined, Infinity]
  for (const dot of dots) {
    const spot = at(dot, view)
    const off = Math.hypot(spot.x - point.x, spot.y - point.y)
    if (off > Math.max(fingertip, radius(dot, view)) || off > far) continue
    ;[found, far] = [dot, off]
  }
  return found
}

/** Half of 44 px. */
const fingertip = 22
