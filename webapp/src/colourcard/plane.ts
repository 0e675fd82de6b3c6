// The card's plane beyond the card: where in it the photo's pixels lie, as far as they lie in it at all.

import { inverse3, type Nine } from './algebra'
import { cardHeight, cardWidth } from './geometry'
import type { Point } from './measurement'
import type { OnCard, Pose } from './pose'

/** From a photo's pixels to the card's millimetres, with a divisor that is positive for what lies before the camera. */
export type ToPlane = Nine

export function toPlaneOf(pose: Pick<Pose, 'toPhoto'>): ToPlane {
  return inverse3(pose.toPhoto)
}

/** undefined for a pixel above the horizon of the card's plane. */
export function placeOf([a, b, c, d, e, f, g, h, i]: ToPlane, x: number, y: number): OnCard | undefined {
  const w = g * x + h * y + i
  return w > 1e-9 ? { x: (a * x + b * y + c) / w, y: (d * x + e * y + f) / w } : undefined
}

/** Square millimetres of a pixel. */
export function areaOfPixel([a, b, c, d, e, f, g, h, i]: ToPlane, x: number, y: number): number {
  const w = g * x + h * y + i
  const determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
  return Math.abs(determinant / (w * w * w))
}

/** Millimetres from the card's edge, below 0 on the card. */
export function fromCard({ x, y }: Point): number {
  const dx = Math.max(-x, x - cardWidth)
  const dy = Math.max(-y, y - cardHeight)
  return dx > 0 && dy > 0 ? Math.hypot(dx, dy) : Math.max(dx, dy)
}
