import { describe, expect, it } from 'vitest'
import { cardHeight, cardWidth } from './geometry'
import { focalOf } from './focal'
import { homography } from './pose'
import { slantOf } from './slant'
import { Sight } from './testing/view'

const [width, height] = [1600, 1200]
const certain = Float64Array.from({ length: 64 }, (_, k) => (k % 9 === 0 ? 1e-14 : 0))

/** The pose of a card as a pinhole camera of a focal length (in widths of the frame) sees it. */
function posed(focal: number, slant: number) {
  const sight = new Sight({ focal, slant, lean: 70, turn: 12, share: 0.15, at: { x: 0.45, y: 0.55 } }, width, height)
  const corners = [[0, 0], [cardWidth, 0], [cardWidth, cardHeight], [0, cardHeight]].map(([x, y]) => ({ x: x!, y: y! }))
  return { toPhoto: homography(corners, corners.map(({ x, y }) => sight.see(x, y)))!, covariance: certain }
}

describe('a card that is turned away', () => {
  it.each([0.65, 0.75, 0.9, 1.4].flatMap((focal) => [30, 45, 60].map((slant) => [slant, focal] as const)))('by %i degrees before a lens of %f: both are told', (slant, focal) => {
    const pose = posed(focal, slant)
    expect(slantOf(pose, { width, height })).toBeCloseTo(slant, 0)
    expect(focalOf(pose, { width, height }) / width / focal).toBeCloseTo(1, 1)
  })

  it('not at all tells nothing of the lens, and the usual one is taken', () => {
    const pose = posed(1.4, 0)
    expect(focalOf(pose, { width, height }) / width).toBeCloseTo(26 / 36, 1)
    expect(slantOf(pose, { width, height })).toBeLessThan(4)
  })
})
