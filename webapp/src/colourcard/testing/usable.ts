// What a person would say of a rendered photo: that a colour can be read off it, that it cannot and why, or that
// people would differ. The rules stand here alone and know nothing of how photos are measured.

import { cardHeight, cardWidth, codeModule, codeModules, codeX, codeY, patches, patchSide } from '../geometry'
import type { Photo, Point, Problem } from '../measurement'
import type { Scene, Spot } from './scene'
import type { Sight } from './view'

export interface Verdict {
  /** Nobody would refuse it. */
  readonly usable: boolean
  /** Why anybody would refuse it. */
  readonly reasons: readonly Problem[]
  /** Of what people would differ whether it is refused. */
  readonly doubts: readonly Problem[]
  /** Whether its spread can be told as well. */
  readonly flat: boolean
  /** Usable, with one light within 8 % over card and head, and both in one plane: where what is promised holds. */
  readonly reach: boolean
  /** What was judged, to sort scenes by. */
  readonly facts: Facts
}

export interface Facts {
  /** Pixels of the shortest side of a module. */
  readonly module: number
  /** Degrees between the card's normal and the line of sight. */
  readonly slant: number
  /** The card's share of the frame. */
  readonly share: number
  /** Standard deviation of all blur, in modules. */
  readonly blur: number
  /** Shares of the head's pixels at which a channel is at its end, and at its beginning. */
  readonly burnt: number
  readonly black: number
  /** Of the paper's brightest channel, 0 to 255. */
  readonly paper: number
  readonly glareOnHead: number
  readonly shown: number
  /** Millimetres from the card's edge to the head's. */
  readonly gap: number
}

export interface Seen {
  readonly scene: Scene
  readonly sight: Sight
  readonly photo: Photo
  readonly outline: readonly Point[]
  readonly headShown: number
  readonly unevenness: number
  /** The brightest channel of the greys and the paper, as light on the sensor. */
  readonly greys: readonly number[]
}

/** A rule's value, from where people doubt it, and from where nobody would take it. */
interface Rule {
  readonly problem: Problem
  readonly value: number
  readonly doubt: number
  readonly refuse: number
}

export function judge(seen: Seen): Verdict {
  const { scene, unevenness } = seen
  const facts = factsOf(seen)
  const rules: readonly Rule[] = [
    { problem: 'retired_card', value: scene.print.retired ? 1 : 0, doubt: 1, refuse: 1 },
    { problem: 'faded_card', value: scene.print.faded ?? 0, doubt: 0.05, refuse: 0.3 },
    // A module of 3 pixels is told from its neighbours with ease; at 2 the eye gives up.
    { problem: 'far', value: -facts.module, doubt: -3, refuse: -2 },
    { problem: 'cut_off', value: outOfFrame(seen), doubt: 1e-9, refuse: 1e-9 },
    { problem: 'slanted', value: facts.slant, doubt: 46, refuse: 55 },
    // Blurred by half a module, the finest parts run into each other.
    { problem: 'blurred', value: facts.blur, doubt: 0.4, refuse: 0.9 },
    { problem: 'dark', value: -facts.paper, doubt: -70, refuse: -40 },
    { problem: 'burnt_out', value: facts.burnt, doubt: 0.05, refuse: 0.3 },
    // Three greys must be short of white, or there is nothing to measure by.
    { problem: 'burnt_out', value: seen.greys[2] ?? 0, doubt: 0.95, refuse: 1 },
    { problem: 'glare', value: facts.glareOnHead, doubt: 0.12, refuse: 0.5 },
    { problem: 'glare', value: glaredPatches(scene), doubt: 4, refuse: 9 },
    { problem: 'glare', value: codeGlared(scene), doubt: 0.05, refuse: 0.25 },
    { problem: 'covered', value: scene.finger?.reach ?? 0, doubt: 24, refuse: 42 },
    { problem: 'head_cut_off', value: 1 - facts.shown, doubt: 0.002, refuse: 0.1 },
    { problem: 'uneven_light', value: unevenness, doubt: 1.3, refuse: 1.6 },
    // Where another head touches it, its end is anybody's guess.
    { problem: 'head_unclear', value: touching(seen), doubt: 0.5, refuse: 9 },
    { problem: 'head_apart', value: facts.gap, doubt: 70, refuse: 150 },
  ]
  // Channels at their beginning lose colour, which no list of problems names; the eye does not mind.
  const lost: readonly Problem[] = facts.black > 0.05 ? ['lost_colour'] : []
  const reasons = problemsOf(rules.filter(({ value, refuse }) => value >= refuse))
  const doubts = problemsOf(rules.filter(({ value, doubt, refuse }) => value >= doubt && value < refuse)).concat(lost)
  const usable = reasons.length === 0 && doubts.length === 0
  const level = Math.abs(scene.head.behind) <= 2
  return { usable, reasons, doubts, flat: Math.abs(scene.head.behind) <= 20, reach: usable && level && unevenness <= 1.08, facts }
}

const problemsOf = (rules: readonly Rule[]): readonly Problem[] => [...new Set(rules.map(({ problem }) => problem))]

function factsOf({ scene, sight, photo, outline, headShown, greys }: Seen): Facts {
  const module = sight.moduleSide
  const { camera, view } = scene
  const [burnt, black] = endsIn(photo, outline)
  return {
    module, slant: view.slant, share: view.share, burnt, black,
    blur: Math.hypot(camera.blur, camera.motion / Math.sqrt(12)) / module,
    paper: 255 * Math.min(1, Math.max(0, greys[5] ?? 0)) ** (1 / 2.2),
    glareOnHead: glareOnHead(scene), shown: headShown, gap: gapOf(scene),
  }
}

function outOfFrame({ sight, photo }: Seen): number {
  return Math.max(...sight.corners().map(({ x, y }) => Math.max(-x, -y, x - photo.width, y - photo.height)))
}

/** Shares of the head's pixels. */
function endsIn({ data, width, height }: Photo, outline: readonly Point[]): readonly [number, number] {
  let [all, burnt, black] = [0, 0, 0]
  const top = Math.max(0, Math.floor(Math.min(...outline.map(({ y }) => y))))
  const bottom = Math.min(height, Math.max(...outline.map(({ y }) => y)))
  for (let y = top; y < bottom; y += 2) {
    const cuts = crossings(outline, y + 0.5)
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      for (let x = Math.max(0, Math.ceil(cuts[k]!)); x < Math.min(width, cuts[k + 1]!); x += 2) {
        const i = 4 * (y * width + x)
        all++
        if (Math.max(data[i]!, data[i + 1]!, data[i + 2]!) >= 254) burnt++
        if (Math.min(data[i]!, data[i + 1]!, data[i + 2]!) <= 1) black++
      }
    }
  }
  return all === 0 ? [0, 0] : [burnt / all, black / all]
}

function crossings(outline: readonly Point[], y: number): readonly number[] {
  const cuts: number[] = []
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length]!
    if (p.y > y !== q.y > y) cuts.push(p.x + ((y - p.y) / (q.y - p.y)) * (q.x - p.x))
  })
  return cuts.toSorted((a, b) => a - b)
}

/** Whether a spot changes what is seen at a place by a twentieth of white or more. */
function shines({ at, radius, strength }: Spot, x: number, y: number): boolean {
  const away = Math.hypot(x - at.x, y - at.y) / radius
  return away < 1 && strength * (1 - away * away) ** 2 > 0.05
}

function share(scene: Scene, left: number, top: number, width: number, height: number, inside: (x: number, y: number) => boolean = () => true): number {
  let [all, hit] = [0, 0]
  for (let i = 0; i < 20; i++) {
    for (let j = 0; j < 20; j++) {
      const [x, y] = [left + ((i + 0.5) / 20) * width, top + ((j + 0.5) / 20) * height]
      if (!inside(x, y)) continue
      all++
      if (scene.glare.some((spot) => shines(spot, x, y))) hit++
    }
  }
  return hit / all
}

function glareOnHead(scene: Scene): number {
  const { at, across } = scene.head
  const r = 5 * across
  return share(scene, at.x - r, at.y - r, 2 * r, 2 * r, (x, y) => Math.hypot(x - at.x, y - at.y) < r)
}

/** Of the sixteen, those that shine over more than a third. */
function glaredPatches(scene: Scene): number {
  return patches.filter(({ x, y }) => share(scene, x, y, patchSide, patchSide) > 1 / 3).length
}

function codeGlared(scene: Scene): number {
  const size = codeModules * codeModule
  return share({ ...scene, glare: scene.glare.filter(({ strength }) => strength > 0.5) }, codeX, codeY, size, size)
}

function touching({ scene, outline, photo }: Seen): number {
  const { clear, ground, heads } = scene.background
  if (!clear || heads.length === 0 || (ground !== 'heads' && ground !== 'mixed')) return 0
  return outline.some(({ x, y }) => Math.hypot(x / photo.width - clear.x, y / photo.width - clear.y) > clear.radius) ? 1 : 0
}

function gapOf({ head }: Scene): number {
  const dx = Math.max(-head.at.x, head.at.x - cardWidth, 0)
  const dy = Math.max(-head.at.y, head.at.y - cardHeight, 0)
  return Math.hypot(dx, dy) - 5 * head.across
}
