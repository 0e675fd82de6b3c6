// What a screen shows for a colour, which it may not be able to.

import type { Lab } from './lab'
import { encoded, rgbOfLab, sRGB } from './rgb'

/** A colour for a screen of 8-bit sRGB. Where the screen cannot show the colour, mapped is set and what
 * is shown has its lightness and hue but less chroma: as much as fits. */
export interface Shown {
  readonly r: number
  readonly g: number
  readonly b: number
  readonly mapped: boolean
}

/** What to paint for a colour as '#rrggbb'. */
export function hexOf(c: Lab): string {
  const { r, g, b } = show(c)
  return `#${[r, g, b].map((v) => v.toString(16).padStart(2, '0')).join('')}`
}

type Levels = readonly [number, number, number]

/** What to paint for a colour of finite values. Where its lightness is beyond black or white it is
 * brought back to that first, and is mapped too. */
export function show(c: Lab): Shown {
  const levels = levelsOf(c)
  return fits(levels) ? shownAs(levels, false) : shownAs(levelsOf(mostThatFits(c)), true)
}

/** The channels in steps of 8 bits, not yet whole. */
function levelsOf(c: Lab): Levels {
  const { r, g, b } = rgbOfLab(c, sRGB)
  return [255 * encoded(r), 255 * encoded(g), 255 * encoded(b)]
}

/** Whether each channel is nearest to a step that there is: a colour that lies over the edge by less is
 * shown no less truly than others. */
function fits(levels: Levels): boolean {
  return levels.every((v) => v >= -0.5 && v < 255.5)
}

/** Halves its way, so often that no channel could still change. */
function mostThatFits(c: Lab): Lab {
  const L = Math.min(Math.max(c.L, 0), 100)
  let low = 0
  let high = 1
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2
    if (fits(levelsOf({ L, a: middle * c.a, b: middle * c.b }))) low = middle
    else high = middle
  }
  return { L, a: low * c.a, b: low * c.b }
}

function shownAs([r, g, b]: Levels, mapped: boolean): Shown {
  const whole = (v: number) => Math.min(Math.max(Math.floor(v + 0.5), 0), 255)
  return { r: whole(r), g: whole(g), b: whole(b), mapped }
}
