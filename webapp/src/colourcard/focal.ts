// How far a camera sees, from how a card narrows towards the back in its photo, and from what phones are like.

import { variance } from './algebra'
import type { Pose } from './pose'

/**
 * Phones' main cameras have lenses like 24 to 28 mm before a frame 36 mm wide (common practice, no source), their
 * others from 13 to 80 mm; the photo does not say which took it.
 */
const usual = 26 / 36
/** Standard deviation of the logarithm. */
const apart = 0.35

/**
 * The focal length in pixels. In the frame of a pinhole camera whose axis goes through the photo's middle the columns
 * of the homography are the card's axes: across each other and of one length (Hartley and Zisserman, Multiple View
 * Geometry, 2nd edition, 8.5.2). A card seen straight on tells nothing by that, and the usual length is taken.
 */
export function focalOf({ toPhoto, covariance }: Pick<Pose, 'toPhoto' | 'covariance'>, photo: { readonly width: number; readonly height: number }): number {
  const [cx, cy] = [photo.width / 2, photo.height / 2]
  const long = Math.max(photo.width, photo.height)
  const constraints = (m: ArrayLike<number>, focal: number): readonly [number, number] => {
    const [rx, ry, rz] = [(m[0]! - cx * m[6]!) / focal, (m[3]! - cy * m[6]!) / focal, m[6]!]
    const [dx, dy, dz] = [(m[1]! - cx * m[7]!) / focal, (m[4]! - cy * m[7]!) / focal, m[7]!]
    const scale = Math.hypot(rx, ry, rz) * Math.hypot(dx, dy, dz)
    return [(rx * dx + ry * dy + rz * dz) / scale, (rx * rx + ry * ry + rz * rz - dx * dx - dy * dy - dz * dz) / (2 * scale)]
  }
  const uncertain = [0, 1].map((k) => leastDeviation ** 2 + variance(Array.from({ length: 8 }, (_, i) => {
    const nudge = 1e-6 * (Math.abs(toPhoto[i]!) + 1e-4)
    const moved = toPhoto.map((v, j) => (j === i ? v + nudge : v))
    return (constraints(moved, usual * long)[k]! - constraints(toPhoto, usual * long)[k]!) / nudge
  }), covariance))
  let [best, least] = [usual, Infinity]
  for (let log = -1; log <= 1; log += 0.01) {
    const focal = usual * Math.exp(log)
    const off = constraints(toPhoto, focal * long).reduce((sum, r, k) => sum + (r * r) / uncertain[k]!, (log / apart) ** 2)
    if (off < least) [best, least] = [focal, off]
  }
  return best * long
}

/** By which the axes are off in any case: lenses bend a little, and cards. */
const leastDeviation = 0.01
