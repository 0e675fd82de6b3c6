// Random scenes of a card beside what is known, from a seed: a card of another batch, or a patch of a known grey.

import type { Lab } from '../../colour/lab'
import { cardHeight, cardWidth } from '../geometry'
import type { Point } from '../measurement'
import { Random } from './random'
import type { Beside, Scene, Square } from './scene'
import { drawScene, usual, type Codes, type Drawn, type Size } from './scenes'
import { Sight, type View } from './view'

/** Of the card that is to be characterised, and of the one that is known. */
export interface TwoCodes {
  readonly unknown: Codes
  readonly known: Codes
}

export interface Difficulty {
  /** Most over least light on the frame, less 1, about. */
  readonly gradient: number
  /** Pixels. */
  readonly blur: number
  readonly slant: number
  readonly exposure: number
}

/** As somebody does it who was told how: by open shade, straight on, both filling the frame. */
export const careful: Difficulty = { gradient: 0.08, blur: 0.7, slant: 10, exposure: -0.4 }

export interface CardScene extends Drawn {
  /** Where the grey patch is seen. */
  readonly patch: Point
}

/** Fewer pixels than a phone's have by far, and enough. */
const across: Size = { width: 1200, height: 900 }
/** Where the head of other scenes stands: out of sight. */
const away = { x: -4000, y: -4000 }

export function drawCardScene(seed: number, codes: TwoCodes, by: 'card' | 'patch', difficulty: Difficulty = careful, size: Size = across): CardScene {
  const random = new Random(seed)
  const base = drawScene(seed, 'curve', codes.unknown, usual)
  const gap = random.between(4, 18)
  const beside: Beside = { print: { ...printOf(random, codes.known), se: random.between(0.4, 0.7) }, at: { x: cardWidth + gap, y: random.between(-8, 8) }, turn: random.between(-4, 4) }
  const square: Square = { lab: { L: random.between(45, 80), a: random.normal(), b: random.normal() }, middle: { x: cardWidth + gap + 15, y: random.between(15, cardHeight - 15) }, side: 26 }
  const width = by === 'card' ? 2 * cardWidth + gap : cardWidth + gap + 30
  const view = viewOf(random, width, size, difficulty.slant)
  const { camera, falling } = base.scene
  const scene: Scene = {
    ...base.scene, ...size, view, print: printOf(random, codes.unknown), tag: undefined, finger: undefined, glare: [],
    head: { ...base.scene.head, at: away, behind: 0, across: 4 },
    background: { ...base.scene.background, ground: 'soil' },
    falling: { ...falling, shadow: undefined, gradient: difficulty.gradient * random.next(), vignette: 0.05 * random.next() },
    camera: { ...camera, exposure: difficulty.exposure, blur: difficulty.blur, motion: 0 },
    ...(by === 'card' ? { beside } : { square }),
  }
  return { ...base, scene, patch: new Sight(view, size.width, size.height).see(square.middle.x, square.middle.y) }
}

function printOf(random: Random, { batch, card, ink }: Codes): Scene['print'] {
  const paper: Lab = { L: random.between(92, 96), a: random.between(-0.8, 1.5), b: random.between(-2, 5) }
  return { batch, code: card, ink, paper, off: 2.5, black: random.between(14, 24), strength: random.between(0.8, 1), se: 0.5, scale: 1, seed: random.fork() }
}

/** Both in the frame, as large as they go. */
function viewOf(random: Random, width: number, size: Size, slant: number): View {
  const wanted = { focal: random.oneOf([0.72, 0.9]), slant: slant * random.next(), lean: random.between(0, 360), turn: random.between(-4, 4), at: { x: 0.5, y: 0.5 } }
  const corners = [[-6, -10], [width + 6, -10], [width + 6, cardHeight + 10], [-6, cardHeight + 10]] as const
  for (let share = 0.3; share > 0.02; share *= 0.95) {
    let view: View = { ...wanted, share }
    for (let again = 0; again < 4; again++) {
      const middle = new Sight(view, size.width, size.height).see(width / 2, cardHeight / 2)
      view = { ...view, at: { x: view.at.x + 0.5 - middle.x / size.width, y: view.at.y + 0.5 - middle.y / size.height } }
    }
    const sight = new Sight(view, size.width, size.height)
    const seen = corners.map(([x, y]) => sight.see(x, y))
    if (seen.every(({ x, y }) => x > 4 && y > 4 && x < size.width - 4 && y < size.height - 4)) return view
  }
  throw new Error('placing a camera: no view shows both')
}
