// A card's colours from rendered photos of it beside a card that is known, or a patch: how far they are from the truth, and
// whether what is stated of them holds it; and why a photo is refused.

import { beforeAll, describe, expect, it, test } from 'vitest'
import type { Lab } from '../colour/lab'
import { asPrinted } from './as_printed'
import { type CardProblem, type CardSeen, characterise, type Reference, together } from './characterise'
import { careful, drawCardScene, type Difficulty, type TwoCodes } from './testing/cardscenes'
import { codeOf, readCodes, realCodes } from './testing/codes'
import { jpegOf, pixelsOf } from './testing/jpeg'
import { render } from './testing/render'
import type { Scene } from './testing/scene'

const batch = 'K7M2QX'
let codes: TwoCodes

beforeAll(async () => {
  const known = await realCodes()
  codes = { known, unknown: { ...known, batch, card: await codeOf(`CARD/1/${batch}`), ink: undefined } }
})

interface Taken {
  readonly seen: CardSeen
  readonly truth: readonly Lab[]
}

interface Asked {
  readonly by?: 'card' | 'patch'
  readonly difficulty?: Partial<Difficulty>
  /** What else is of the scene. */
  readonly with?: Partial<Scene>
  readonly reference?: Partial<Reference>
}

async function taken(seed: number, { by = 'card', difficulty = {}, with: more = {}, reference = {} }: Asked = {}): Promise<Taken> {
  const { scene, quality, patch } = drawCardScene(seed, codes, by, { ...careful, ...difficulty })
  const drawn = render({ ...scene, ...more })
  const photo = await pixelsOf(await jpegOf(drawn.photo, { quality }), drawn.photo.space)
  const usual: Reference = by === 'card'
    ? { kind: 'card', cardOf: (name) => (name === codes.known.batch ? drawn.beside?.known : undefined) }
    : { kind: 'patch', lab: scene.square!.lab, se: 0.5, at: patch }
  return { seen: await characterise(photo, readCodes, batch, { ...usual, ...reference } as Reference), truth: drawn.printed.patches }
}

const parts = ['L', 'a', 'b'] as const

/** Root mean square over patches and components. */
function rms(of: (patch: number, part: 'L' | 'a' | 'b') => number): number {
  return Math.sqrt(asPrinted.patches.reduce((sum, _, k) => sum + parts.reduce((all, part) => all + of(k, part) ** 2, 0), 0) / (3 * asPrinted.patches.length))
}

interface Judged {
  readonly error: number
  readonly stated: number
  /** Share of components whose interval at 90 % holds the truth. */
  readonly held: number
  readonly asPrinted: number
}

function judged(patches: readonly Lab[], ses: readonly Lab[], truth: readonly Lab[]): Judged {
  const off = (k: number, part: 'L' | 'a' | 'b') => patches[k]![part] - truth[k]![part]
  const within = truth.flatMap((_, k) => parts.map((part) => Math.abs(off(k, part)) <= 1.645 * ses[k]![part]))
  return {
    error: rms(off), stated: rms((k, part) => ses[k]![part]), held: within.filter(Boolean).length / within.length,
    asPrinted: rms((k, part) => asPrinted.patches[k]![part] - truth[k]![part]),
  }
}

const seeds = (process.env['CORYMB_SEEDS'] ?? '2,4,7').split(',').map(Number)

describe('a card that nobody has measured', () => {
  test.each([['card', 2], ['patch', 5]] as const)(`is told beside a known %s, and what is stated holds the truth (seeds ${seeds})`, async (by, most) => {
    const all: Judged[] = []
    const refused: string[] = []
    for (const seed of seeds) {
      const { seen, truth } = await taken(seed, { by })
      if (seen.patches) all.push(judged(seen.patches, seen.ses, truth))
      else refused.push(`${seed} ${seen.problems}`)
    }
    const mean = (of: (one: Judged) => number) => all.reduce((sum, one) => sum + of(one), 0) / all.length
    console.log(`beside a ${by}: error ${mean((one) => one.error).toFixed(2)}, stated ${mean((one) => one.stated).toFixed(2)}, held ${mean((one) => one.held).toFixed(3)}, as printed ${mean((one) => one.asPrinted).toFixed(2)}, refused ${refused.join('; ') || 'none'}; each ${all.map((one) => one.error.toFixed(2))}`)
    expect(refused).toEqual([])
    expect(Math.max(...all.map((one) => one.error))).toBeLessThan(most)
    expect(mean((one) => one.error)).toBeLessThan(0.75 * mean((one) => one.asPrinted))
    expect(mean((one) => one.held)).toBeGreaterThan(0.85)
  }, 60_000 * seeds.length)

  it('is told better by three photos in other light', async () => {
    const first = drawCardScene(7, codes, 'card')
    const photos: Taken[] = []
    for (const seed of [7, 8, 9]) {
      const { scene } = drawCardScene(seed, codes, 'card')
      photos.push(await taken(7, { with: { view: scene.view, light: scene.light, camera: scene.camera, falling: scene.falling, beside: { ...scene.beside!, print: first.scene.beside!.print } } }))
    }
    const whole = together(photos.map(({ seen }) => seen), 'card')
    if (!whole) expect.fail('all photos are refused')
    const { error, held } = judged(whole.patches, whole.ses, photos[0]!.truth)
    expect(error).toBeLessThan(1)
    expect(held).toBeGreaterThan(0.85)
    expect(whole.agree).toBe(true)
  }, 120_000)
})

test.each<[string, Asked, readonly CardProblem[]]>([
  ['no other card is there', { with: { beside: undefined } }, ['no_reference']],
  ['nothing is known of the other card', { reference: { cardOf: () => undefined } }, ['no_reference']],
  ['the other card is retired', { reference: { cardOf: () => ({ ...asPrinted, retired: true }) } }, ['retired_reference']],
  ['the other card is not what is known of it', { reference: { cardOf: () => ({ ...asPrinted, se: 0.5 }) } }, ['reference_off']],
  ['it is blurred', { difficulty: { blur: 2.8 } }, ['blurred']],
  ['it is dark', { difficulty: { exposure: -5 } }, ['dark']],
  ['it is burnt out', { difficulty: { exposure: 1.5 } }, ['burnt_out']],
  ['it is seen from the side', { difficulty: { slant: 0 }, with: { view: { focal: 0.9, slant: 48, lean: 80, turn: 0, share: 0.09, at: { x: 0.3, y: 0.5 } } } }, ['slanted']],
  ['what was tapped is of no single colour', { by: 'patch', reference: { at: { x: 10, y: 10 } } }, ['no_patch']],
])('a photo is refused where %s', async (_, asked, want) => {
  const { seen } = await taken(4, asked)
  expect(seen.patches).toBeUndefined()
  expect(seen.problems).toEqual(expect.arrayContaining([...want]))
}, 60_000)

describe('photos together', () => {
  const lab = (L: number) => asPrinted.patches.map(() => ({ L, a: 0, b: 0 }))
  const photo = (L: number, se: number): CardSeen => ({ reference: 'X', patches: lab(L), ses: lab(0).map(() => ({ L: se, a: se, b: se })), problems: [] })

  it('leave open no less than they share, however many there are', () => {
    const many = together(Array.from({ length: 20 }, () => photo(50, 0.7)), 'card')!
    expect(many.se).toBeGreaterThan(0.7 * Math.sqrt(0.5))
    expect(many.se).toBeLessThan(0.7)
  })

  it('count by how sure each is', () => {
    expect(together([photo(50, 1), photo(56, 3)], 'card')!.patches[0]!.L).toBeCloseTo(50.6)
  })

  it('are as uncertain as they differ, and are said to, where that is more than each states', () => {
    const whole = together([photo(46, 1), photo(54, 1)], 'card')!
    expect(whole.ses[0]!.L).toBeCloseTo(4)
    expect(whole.agree).toBe(false)
    expect(together([photo(49.5, 1), photo(50.5, 1)], 'card')!.agree).toBe(true)
  })

  it('gain less beside a patch, where the camera is what is not known', () => {
    const photos = [photo(50, 2), photo(50, 2), photo(50, 2)]
    expect(together(photos, 'patch')!.se).toBeGreaterThan(together(photos, 'card')!.se)
  })

  it('come to nothing where all are refused', () => {
    expect(together([{ ...photo(50, 1), patches: undefined }], 'card')).toBeUndefined()
  })
})
