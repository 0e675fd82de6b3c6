// A print of the colour card: what its paper and inks came out as, and what careful measuring of a batch tells of it.

import { D50, xyzOf, type Lab, type XYZ } from '../../colour/lab'
import { decoded, labOfRGB, sRGB } from '../../colour/rgb'
import { cardColours, cardHeight, cardWidth, codeModule, codeModules, codeX, codeY, paper, patches, patchSide } from '../geometry'
import type { KnownCard } from '../measurement'
import { Random } from './random'

export interface Print {
  readonly batch: string
  /** The code's modules in rows, true where dark; see codes.ts. */
  readonly code: readonly boolean[]
  /** All that is black on a real print, its code too; without it there are that code and the scale. */
  readonly ink?: Ink | undefined
  /** What the bare paper is; unprinted sRGB white is L 100. */
  readonly paper: Lab
  /** Standard deviation of what each ink came out as about what was asked, in L, a and b each. */
  readonly off: number
  /** The lightness of the printer's darkest black. */
  readonly black: number
  /** How strong its colours come out, 1 as asked. */
  readonly strength: number
  /** Standard uncertainty to which the batch is known. */
  readonly se: number
  /** Real millimetres in one of the geometry's. */
  readonly scale: number
  /** The share of its colours' strength that it lost since it was measured; some colours lose more. */
  readonly faded?: number
  readonly retired?: boolean
  readonly seed: number
}

export interface Printed {
  /** What the patches are, in the order of the geometry's colours. */
  readonly patches: readonly Lab[]
  readonly ink: Lab
  /** What is known of them: each true value with an error of its own. */
  readonly known: KnownCard
}

export function printed(print: Print): Printed {
  const random = new Random(print.seed)
  const onPaper = (k: number) => (k === paper ? print.paper : ink(print, labOf8(cardColours[k]!), random))
  const all = cardColours.map((_, k) => onPaper(k))
  const error = () => print.se * random.normal()
  const known = all.map(({ L, a, b }) => ({ L: L + error(), a: a + error(), b: b + error() }))
  const wear = new Random(print.seed ^ 0x5f)
  return {
    patches: all.map((patch) => worn(patch, print.paper, (print.faded ?? 0) * wear.between(0.5, 1.5))),
    ink: { L: print.black, a: 0, b: 0 },
    known: { patches: known, se: print.se, scale: print.scale, scaleSE: 0, retired: print.retired ?? false },
  }
}

/** Light bleaches dyes: towards the paper, in strength more than in lightness. */
function worn({ L, a, b }: Lab, paper: Lab, by: number): Lab {
  return { L: L + 0.3 * by * (paper.L - L), a: a + by * (paper.a - a), b: b + by * (paper.b - b) }
}

/** Between the printer's black and the paper, tinted by the paper, and off by a little. */
function ink(print: Print, asked: Lab, random: Random): Lab {
  const t = asked.L / 100
  return {
    L: print.black + (print.paper.L - print.black) * t + print.off * random.normal(),
    a: asked.a * print.strength + print.paper.a * t + print.off * random.normal(),
    b: asked.b * print.strength + print.paper.b * t + print.off * random.normal(),
  }
}

function labOf8([r, g, b]: readonly [number, number, number]): Lab {
  return labOfRGB({ r: decoded(r / 255), g: decoded(g / 255), b: decoded(b / 255) }, sRGB)
}

/** What is black, of `planScale` parts a millimetre, in rows of the card's breadth: 1 where it is. */
export type Ink = Uint8Array

/** Parts a millimetre of the plan. */
export const planScale = 16

/** What is where on a card: places in the geometry's colours, and one more for ink that is no patch. */
export interface Plan {
  readonly width: number
  readonly height: number
  readonly what: Uint8Array
}

export const inked = cardColours.length

export function planOf({ code, ink }: Pick<Print, 'code' | 'ink'>): Plan {
  if (code.length !== codeModules * codeModules) throw new Error(`drawing a card: its code has ${code.length} modules`)
  const [width, height] = [cardWidth * planScale, Math.round(cardHeight * planScale)]
  const plan = { width, height, what: new Uint8Array(width * height).fill(paper) }
  for (const { x, y, colour } of patches) box(plan, x, y, patchSide, patchSide, colour)
  if (ink) {
    if (ink.length !== width * height) throw new Error(`drawing a card: its ink has ${ink.length} parts, not ${width * height}`)
    for (let i = 0; i < ink.length; i++) if (ink[i]) plan.what[i] = inked
    return plan
  }
  code.forEach((dark, i) => {
    if (dark) box(plan, codeX + (i % codeModules) * codeModule, codeY + Math.floor(i / codeModules) * codeModule, codeModule, codeModule, inked)
  })
  // The scale along the lower edge, as internal/tags draws it.
  box(plan, 5, 63 - 0.125, 80, 0.25, inked)
  for (let at = 0; at <= 80; at += 5) {
    const long = at % 10 === 0 ? 3 : 1.5
    box(plan, 5 + at - 0.125, 63 - long, 0.25, long, inked)
  }
  return plan
}

function box({ width, what }: Plan, x: number, y: number, w: number, h: number, fill: number): void {
  const edge = (v: number) => Math.round(v * planScale)
  for (let row = edge(y); row < edge(y + h); row++) what.fill(fill, row * width + edge(x), row * width + edge(x + w))
}

/** X, Y and Z of each part of a plan. */
export function reflecting({ patches, ink }: Printed): readonly XYZ[] {
  return [...patches, ink].map((c) => xyzOf(c, D50))
}
