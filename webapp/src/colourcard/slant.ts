// How far a card is turned away from the line of sight.

import { focalOf } from './focal'
import { cardHeight, cardWidth } from './geometry'
import { through, type Pose } from './pose'

/**
 * Degrees between the card's normal and the line of sight to its middle, from the homography of a pinhole camera whose
 * axis goes through the photo's middle (Hartley and Zisserman, Multiple View Geometry, 2nd edition, 8.1.1: the columns
 * are the plane's axes as the camera has them).
 */
export function slantOf(pose: Pick<Pose, 'toPhoto' | 'covariance'>, photo: { readonly width: number; readonly height: number }): number {
  const { toPhoto } = pose
  const [a, b, , d, e, , g, h] = toPhoto
  const focal = focalOf(pose, photo)
  const [cx, cy] = [photo.width / 2, photo.height / 2]
  const right = [(a - cx * g) / focal, (d - cy * g) / focal, g] as const
  const down = [(b - cx * h) / focal, (e - cy * h) / focal, h] as const
  const normal = [right[1] * down[2] - right[2] * down[1], right[2] * down[0] - right[0] * down[2], right[0] * down[1] - right[1] * down[0]] as const
  const middle = through(toPhoto, cardWidth / 2, cardHeight / 2)
  const sight = [(middle.x - cx) / focal, (middle.y - cy) / focal, 1] as const
  const along = normal[0] * sight[0] + normal[1] * sight[1] + normal[2] * sight[2]
  return (180 / Math.PI) * Math.acos(Math.min(1, Math.abs(along) / (Math.hypot(...normal) * Math.hypot(...sight))))
}
