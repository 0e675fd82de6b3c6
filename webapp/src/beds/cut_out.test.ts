import { describe, expect, it } from 'vitest'
import type { HeadBox } from '../crop/nouns'
import { cutOut } from './cut_out'

/** The square of the photo that is seen, in its pixels, as a window of 1 pixel's side would show it. */
function seen(head: HeadBox, width: number, height: number) {
  const cut = cutOut(head, { width, height })
  if (!cut) return undefined
  const side = (100 * width) / cut.width
  return { x: (-cut.left * side) / 100, y: (-cut.top * side) / 100, side }
}

describe('the square about a head', () => {
  it('is as wide as the longer side of its box and a little more, about its middle', () => {
    const { x, y, side } = seen({ x: 0.4, y: 0.4, width: 0.2, height: 0.1 }, 1000, 500)!
    expect(side).toBeCloseTo(224)
    expect(x + side / 2).toBeCloseTo(500)
    expect(y + side / 2).toBeCloseTo(225)
  })

  it.each<[string, HeadBox, { x: number; y: number }]>([
    ['the upper left', { x: 0, y: 0, width: 0.3, height: 0.3 }, { x: 0, y: 0 }],
    ['the lower right', { x: 0.7, y: 0.7, width: 0.3, height: 0.3 }, { x: 400 - 134.4, y: 300 - 134.4 }],
  ])('stays within the photo at %s', (_, head, at) => {
    const { x, y, side } = seen(head, 400, 300)!
    expect(side).toBeCloseTo(134.4)
    expect([x, y]).toEqual([expect.closeTo(at.x), expect.closeTo(at.y)])
  })

  it('lies about the middle of a side that is shorter than it', () => {
    const { x, y, side } = seen({ x: 0.25, y: 0, width: 0.5, height: 1 }, 400, 300)!
    expect(side).toBeCloseTo(336)
    expect(y).toBeCloseTo(-18)
    expect(x).toBeCloseTo(32)
  })

  it.each([0, Number.NaN])('is none of a box of %d', (size) => {
    expect(cutOut({ x: 0.2, y: 0.2, width: size, height: size }, { width: 400, height: 300 })).toBeUndefined()
  })
})
