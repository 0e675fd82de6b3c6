// Photos for tests of what finds heads: card and camera are known, so that what is asked is the head alone.

import { sRGB, toD50, xyzOfRGB } from '../../colour/rgb'
import { D50, labOf, type Lab } from '../../colour/lab'
import type { Calibration } from '../calibration'
import { cardHeight, cardWidth, codeModules } from '../geometry'
import type { Point } from '../measurement'
import { pictureOf } from '../picture'
import { homography, type Pose } from '../pose'
import type { Scene as HeadScene } from '../head'
import { inverse3 } from '../algebra'
import { skins, type Ground } from './background'
import type { Head } from './head'
import { Random } from './random'
import { render, type Rendered } from './render'
import type { Scene } from './scene'
import { Sight, type View } from './view'

/** Colours of heads, CIELAB D50, from memory of the flowers; the last ones are near to leaves, to soil and to skin. */
export const headColours: readonly (readonly [string, Lab])[] = [
  ['white', { L: 92, a: -1, b: 4 }],
  ['cream', { L: 87, a: 0, b: 18 }],
  ['yellow', { L: 82, a: 4, b: 70 }],
  ['apricot', { L: 74, a: 18, b: 36 }],
  ['terracotta', { L: 52, a: 34, b: 34 }],
  ['pink', { L: 70, a: 30, b: 2 }],
  ['pale pink', { L: 82, a: 12, b: 2 }],
  ['red', { L: 40, a: 50, b: 26 }],
  ['magenta', { L: 46, a: 54, b: -10 }],
  ['lilac', { L: 66, a: 18, b: -18 }],
  ['green-white', { L: 82, a: -8, b: 20 }],
  ['rust', { L: 40, a: 20, b: 22 }],
  ['peach', { L: 72, a: 15, b: 20 }],
  ['bud green', { L: 68, a: -12, b: 34 }],
]

export interface Asked {
  readonly colour: Lab
  readonly ground: Ground
  readonly form: Head['form']
  readonly texture: number
  /** Of the card that the head is at: 0 right, then clockwise. */
  readonly side: number
  /** Centimetres. */
  readonly across: number
  /** Millimetres from the card's edge to the head's. */
  readonly gap: number
  readonly slant: number
  readonly share: number
  readonly blur: number
  readonly noise: number
  readonly glare: boolean
  readonly finger: boolean
  readonly behind: number
  readonly seed: number
}

export interface Drawn extends Rendered {
  readonly asked: Asked
  readonly scene: HeadScene
  readonly drawn: Scene
}

const noCode: readonly boolean[] = Array.from({ length: codeModules * codeModules }, (_, i) => (i * 2654435761) % 7 < 3)

export function drawHead(asked: Asked, width = 1600, height = 1200): Drawn {
  const random = new Random(asked.seed)
  const r = 5 * asked.across
  const along = random.between(-0.35, 0.35)
  const at = [
    { x: cardWidth + asked.gap + r, y: cardHeight * (0.5 + along) },
    { x: cardWidth * (0.5 + along), y: cardHeight + asked.gap + r },
    { x: -asked.gap - r, y: cardHeight * (0.5 + along) },
    { x: cardWidth * (0.5 + along), y: -asked.gap - r },
  ][asked.side]!
  const light = { kelvin: random.between(4500, 7500), kind: 'daylight', tint: 0 } as const
  const drawn: Scene = {
    width, height,
    view: viewOf(asked, at, r, random, width, height),
    print: { batch: 'TEST', code: noCode, paper: { L: 95, a: 0, b: 1 }, off: 1.5, black: 18, strength: 0.9, se: 0.3, scale: 1, seed: random.fork() },
    head: { lab: asked.colour, form: asked.form, across: asked.across, at, behind: asked.behind, texture: asked.texture, seed: random.fork() },
    background: { ground: asked.ground, heads: [headColours[random.below(headColours.length)]![1], headColours[random.below(headColours.length)]![1]], seed: random.fork() },
    light, cones: 'bradford',
    falling: { gradient: random.between(0, 0.06), from: random.between(0, 360), vignette: 0.02 },
    glare: asked.glare ? [{ at: { x: at.x + random.between(-0.5, 0.5) * r, y: at.y + random.between(-0.5, 0.5) * r }, radius: 0.3 * r, strength: 0.5 }] : [],
    finger: asked.finger ? { corner: random.below(4), reach: random.between(12, 22), skin: random.oneOf(skins) } : undefined,
    camera: {
      space: 'srgb', exposure: -0.2, balance: light, balanced: 'cones', shoulder: 0, curve: 0, vivid: 1, blur: asked.blur, motion: 0, motionAt: 0,
      shot: asked.noise, read: asked.noise / 2,
    },
    seed: random.fork(),
  }
  const rendered = render(drawn)
  return { ...rendered, asked, drawn, scene: { picture: pictureOf(rendered.photo, 1600), pose: poseOf(rendered.truth.corners), calibration: calibrationOf(drawn), codes: [] } }
}

/** So that the card has its share of the frame and the middle of both is in the frame's middle as far as it goes. */
function viewOf(asked: Asked, at: Point, r: number, random: Random, width: number, height: number): View {
  const [turn, lean] = [random.between(-25, 25), random.between(0, 360)]
  let view: View = { focal: 0.72, slant: asked.slant, lean, turn, share: asked.share, at: { x: 0.5, y: 0.5 } }
  for (let k = 0; k < 12; k++) {
    const sight = new Sight(view, width, height)
    const points = [...sight.corners(), ...[0, 1, 2, 3, 4, 5, 6, 7].map(i => sight.see(at.x + 1.04 * r * Math.cos(i * 0.785), at.y + 1.04 * r * Math.sin(i * 0.785), asked.behind))]
    const xs = points.map(p => p.x)
    const ys = points.map(p => p.y)
    const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
    const shift = { x: (width - left - right) / (2 * width), y: (height - top - bottom) / (2 * height) }
    const fits = right - left < 0.96 * width && bottom - top < 0.96 * height
    view = { ...view, share: fits ? view.share : view.share * 0.85, at: { x: view.at.x + shift.x, y: view.at.y + shift.y } }
  }
  return view
}

function poseOf(corners: readonly Point[]): Pose {
  const card = [{ x: 0, y: 0 }, { x: cardWidth, y: 0 }, { x: cardWidth, y: cardHeight }, { x: 0, y: cardHeight }]
  const toPhoto = homography(card, corners)
  if (!toPhoto) throw new Error('finding the pose of a drawn card: three corners lie on a line')
  return { toPhoto, toCard: inverse3(toPhoto), covariance: new Float64Array(64), residual: 0 }
}

/** What the renderer's camera did, undone. */
function calibrationOf({ camera }: Scene): Calibration {
  const by = 2 ** -camera.exposure
  return {
    lab: (r, g, b, _x, _y, out, at) => {
      const { L, a, b: yellow } = labOf(toD50(xyzOfRGB({ r: r * by, g: g * by, b: b * by }, sRGB)), D50)
      out[at] = L
      out[at + 1] = a
      out[at + 2] = yellow
    },
  }
}

/** One of what may be asked, at random. */
export function askedOf(seed: number, grounds: readonly Ground[]): Asked {
  const random = new Random(seed)
  return {
    colour: headColours[random.below(headColours.length)]![1],
    ground: random.oneOf(grounds),
    form: random.oneOf(['disc', 'lobed', 'corymb', 'corymb'] as const),
    texture: random.oneOf([0, 0.5, 1]),
    side: random.below(4),
    across: random.between(3, 13),
    gap: random.between(2, 40),
    slant: random.between(0, 40),
    share: random.between(0.08, 0.35),
    blur: random.between(0.4, 2),
    noise: random.between(0, 0.012),
    glare: random.chance(0.15),
    finger: random.chance(0.1),
    behind: 0,
    seed: random.fork(),
  }
}
