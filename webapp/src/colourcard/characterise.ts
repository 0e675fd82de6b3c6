// What the colours of a card came out as, from a photo of it beside something that is known: a card of a batch that was
// characterised, or a patch whose CIELAB somebody knows. All is fitted together, as the colour of a head is: light and
// camera, and the card's own colours, of which hardly anything is held to be known beforehand.

import type { Lab } from '../colour/lab'
import { decoded } from '../colour/rgb'
import { asPrinted } from './as_printed'
import { told } from './calibration'
import { cardsIn, type Card } from './card'
import { fieldAt, fitted, usable, type Fit, type Target } from './fit'
import { cardHeight, cardVersion, cardWidth, codeModule, greys, paper } from './geometry'
import type { KnownCard, Photo, Point, ReadCodes } from './measurement'
import { readings, squareAt, type Reading } from './patches'
import { pictureOf } from './picture'
import { cardOf, cornersOf, photoOf, pixelsToMillimetre } from './pose'
import { slantOf } from './slant'

/** What stands beside the card. */
export type Reference =
  /** Any card of a batch that is characterised. */
  | { readonly kind: 'card'; readonly cardOf: (batch: string) => KnownCard | undefined }
  /** A patch of one colour, where somebody tapped it, with the standard uncertainty of each component of its colour. */
  | { readonly kind: 'patch'; readonly lab: Lab; readonly se: number; readonly at: Point }

/** What is wrong with a photo; all but `uneven_light` leave it without an answer. */
export const cardProblems = [
  'no_card', 'other_card', 'no_reference', 'retired_reference', 'other_layout', 'cut_off', 'far', 'slanted', 'blurred', 'dark', 'burnt_out', 'glare', 'no_patch',
  'apart', 'uneven_light', 'reference_off', 'off_print',
] as const
export type CardProblem = (typeof cardProblems)[number]

/** What one photo tells of a card's colours. */
export interface CardSeen {
  /** The batch that the reference card is of; '' where it is none. */
  readonly reference: string
  /** In the geometry's order; undefined where the photo is refused. */
  readonly patches: readonly Lab[] | undefined
  /** Of each patch, of each component. */
  readonly ses: readonly Lab[]
  readonly problems: readonly CardProblem[]
}

/** Pixels of the long side of what is looked at, as in measuring. */
const side = 1000

/** Limits are narrower than in measuring: this is done once for a batch, and can be done anew. Degrees, modules of the code, pixels to a millimetre. */
const mostSlanted = 40
const mostBlurred = 0.42
const leastScale = 2.6
/** Of a patch's cells, those that must agree. */
const leastAgreeing = 0.6
/** Most light over least, on the two together, from which it is told, and from which it is refused. */
const uneven = [1.25, 1.7] as const
/** Millimetres between the middles of the two, of the card that is characterised. */
const mostApart = 220
/** How far the mean square of what is left may lie above what is expected. */
const mostMisfit = 4
/** Share of the reference's readings that may not agree with what is known of it. */
const mostDoubted = 0.3
/** How far, as a root mean square over patches, a print may lie from what was sent to the printer: beyond, it is none of this layout. */
const furthestPrint = 30

/** What one photo tells of the colours of a batch's card. */
export async function characterise(photo: Photo, readCodes: ReadCodes, batch: string, reference: Reference): Promise<CardSeen> {
  const found = await cardsOf(photo, readCodes, batch, reference)
  const { card, beside } = found
  if (!card || (reference.kind === 'card' && !beside)) {
    const why = found.unread ? seenBadly(photo, found.unread) : []
    return refused(why.length > 0 ? why : [card ? 'no_reference' : found.others > 0 ? 'other_card' : 'no_card'])
  }
  const name = beside?.named?.batch ?? ''
  const known = reference.kind === 'card' ? reference.cardOf(name) : undefined
  const wrong = [card, ...(beside ? [beside] : [])].flatMap((one) => seenBadly(photo, one))
  if (known?.retired) wrong.push('retired_reference')
  if (wrong.length > 0) return refused(wrong, name)
  const own = plain(readings(photo, card.pose, card.blur))
  const others = beside && known ? readOf(photo, card, beside) : patchOf(photo, card, reference)
  wrong.push(...lightOf(own), ...(others ? [] : ['no_patch' as const]))
  if (wrong.length > 0 || !others) return refused(wrong, name)
  return known ? byCard(photo, card, own, others, known, name) : byPatch(photo, own, others, reference)
}

interface Found {
  readonly card: Card | undefined
  readonly beside: Card | undefined
  /** How many cards of other batches are there. */
  readonly others: number
  /** One whose code cannot be read. */
  readonly unread: Card | undefined
}

/** The card of the batch and, where one is asked for, the card of another that is known. */
async function cardsOf(photo: Photo, readCodes: ReadCodes, batch: string, reference: Reference): Promise<Found> {
  const found = new Map<string, Card>()
  const picture = pictureOf(photo, side)
  let unread: Card | undefined
  for await (const one of cardsIn(photo, picture, readCodes)) {
    if (!one.named) unread ??= one
    if (!one.named || found.has(one.named.batch)) continue
    found.set(one.named.batch, one)
    const known = [...found.keys()].some((name) => name !== batch && reference.kind === 'card' && reference.cardOf(name) !== undefined)
    if (found.has(batch) && (reference.kind === 'patch' || known)) break
  }
  const others = [...found].filter(([name]) => name !== batch)
  const known = reference.kind === 'card' ? others.find(([name]) => reference.cardOf(name) !== undefined) : undefined
  return { card: found.get(batch), beside: known?.[1], others: others.length, unread }
}

function refused(problems: readonly CardProblem[], reference = ''): CardSeen {
  return { reference, patches: undefined, ses: [], problems: inOrder(problems) }
}

function inOrder(wrong: readonly CardProblem[]): CardProblem[] {
  return cardProblems.filter((problem) => wrong.includes(problem))
}

function seenBadly(photo: Photo, { pose, blur, named }: Card): CardProblem[] {
  const wrong: CardProblem[] = []
  if (named && named.version !== cardVersion) wrong.push('other_layout')
  if (cornersOf(pose).some(({ x, y }) => x < 0 || y < 0 || x > photo.width || y > photo.height)) wrong.push('cut_off')
  if (pixelsToMillimetre(pose, middle) < leastScale) wrong.push('far')
  if (slantOf(pose, photo) > mostSlanted) wrong.push('slanted')
  if (blur > mostBlurred * codeModule) wrong.push('blurred')
  return wrong
}

const middle = { x: cardWidth / 2, y: cardHeight / 2 }

function plain(seen: readonly Reading[]): Reading[] {
  return seen.filter(({ agreeing }) => agreeing >= leastAgreeing)
}

/** What is wrong with the light on the card: every colour of it must be read. */
function lightOf(own: readonly Reading[]): CardProblem[] {
  const wrong: CardProblem[] = []
  const burnt = own.filter((reading) => reading.burnt.some((share) => share > 0.02))
  if (burnt.length > 0) wrong.push('burnt_out')
  if (Math.max(0, ...own.flatMap(({ value }) => value)) < 90 / 255) wrong.push('dark')
  if (missing(own).length > 0) wrong.push('glare')
  return wrong
}

/** Colours that are read nowhere. */
function missing(own: readonly Reading[]): number[] {
  const read = new Set(own.map(({ colour }) => colour))
  return asPrinted.patches.map((_, colour) => colour).filter((colour) => !read.has(colour))
}

const all = asPrinted.patches.length

/** What is read of the other card, in the plane of the first, its colours after the first's. */
function readOf(photo: Photo, card: Card, beside: Card): Reading[] {
  return plain(readings(photo, beside.pose, beside.blur)).map((reading) => ({
    ...reading, colour: all + reading.colour, middle: cardOf(card.pose, photoOf(beside.pose, reading.middle)),
  }))
}

/** Millimetres of a patch that are looked at around where it was tapped. */
const tapped = 8

function patchOf(photo: Photo, { pose }: Card, reference: Reference): Reading[] | undefined {
  if (reference.kind !== 'patch') return undefined
  const read = squareAt(photo, pose, cardOf(pose, reference.at), tapped, all)
  const well = read && read.agreeing >= leastAgreeing && read.burnt.every((share) => share < 0.02) && read.black.every((share) => share < 0.02)
  return well ? [read] : undefined
}

/** What is not known of a patch: so much that the photo alone tells it. Where a channel is at its end, it does not, and the other patches say what is likely. */
const open = 15

function byCard(photo: Photo, card: Card, own: readonly Reading[], others: readonly Reading[], known: KnownCard, name: string): CardSeen {
  const target = ({ patches, ses }: Prior): Target => ({ patches: [...patches, ...known.patches], se: known.se, ses: [...ses, ...known.patches.map(() => known.se)] })
  // First by the known card alone, so that what the other one may be begins near to what it is.
  const first = fitted(others, target({ patches: asPrinted.patches, ses: asPrinted.patches.map(() => open) }), photo.space)
  if (!first) return refused(['reference_off'], name)
  const seen = asPrinted.patches.map((_, colour) => seenAs(first, card, own.find((one) => one.colour === colour)!))
  const like = printOf(seen)
  const whole = seen.map((_, colour) => own.some((one) => one.colour === colour && usable(one).length === 3))
  const prior = { patches: seen.map((lab, k) => (whole[k] ? lab : like.patches[k]!)), ses: whole.map((is) => (is ? open : likeIts)) }
  const fit = fitted([...own, ...others], target(prior), photo.space)
  return fit ? judged(fit, own, others, name) : refused(['reference_off'], name)
}

function seenAs(fit: Fit, { pose }: Card, { value, middle: at }: Reading): Lab {
  const place = photoOf(pose, at)
  const light = value.map(decoded) as [number, number, number]
  return told(fit, pose, light, place.x, place.y).lab
}

function byPatch(photo: Photo, own: readonly Reading[], others: readonly Reading[], reference: Reference): CardSeen {
  if (reference.kind !== 'patch') throw new Error('characterising by a patch: the reference is a card')
  const target = ({ patches, ses }: Prior): Target => ({ patches: [...patches, reference.lab], se: reference.se, ses: [...ses, reference.se] })
  let prior: Prior = { patches: asPrinted.patches, ses: asPrinted.patches.map(() => anyPrint) }
  for (let round = 0; round < 2; round++) {
    const fit = fitted([...own, ...others], target(prior), photo.space)
    if (!fit) return refused(['reference_off'])
    prior = printOf(fit.patches.slice(0, all).map(({ lab }) => lab))
  }
  const fit = fitted([...own, ...others], target(prior), photo.space)
  return fit ? judged(fit, own, others, '') : refused(['reference_off'])
}

interface Prior {
  readonly patches: readonly Lab[]
  readonly ses: readonly number[]
}

/** What prints are off by from what was sent to the printer, and from a print whose contrast and strength are known, in each component; no source. */
const anyPrint = 8
const likeIts = 6

/**
 * What such a print would be: a print is duller than what was sent to it, all of it alike. So contrast and strength
 * follow from all patches together, and each is off from that by less than from what was sent.
 */
function printOf(seen: readonly Lab[]): Prior {
  const sent = asPrinted.patches
  const { at: black, by: contrast } = line(sent.slice(0, greys).map(({ L }) => L), seen.slice(0, greys).map(({ L }) => L))
  const coloured = sent.map((_, k) => k).filter((k) => k >= greys && k !== paper)
  const along = (of: (lab: Lab) => number) => coloured.reduce((sum, k) => sum + of(sent[k]!) * of(seen[k]!), 0)
  const strength = (along(({ a }) => a) + along(({ b }) => b)) / coloured.reduce((sum, k) => sum + sent[k]!.a ** 2 + sent[k]!.b ** 2, 0)
  const patches = sent.map(({ L, a, b }) => ({ L: black + contrast * L, a: strength * a, b: strength * b }))
  return { patches, ses: sent.map(() => likeIts) }
}

/** The least-squares line through points. */
function line(x: readonly number[], y: readonly number[]): { readonly at: number; readonly by: number } {
  const [mx, my] = [x, y].map((all) => all.reduce((sum, v) => sum + v, 0) / all.length) as [number, number]
  const by = x.reduce((sum, v, k) => sum + (v - mx) * (y[k]! - my), 0) / x.reduce((sum, v) => sum + (v - mx) ** 2, 0)
  return { at: my - by * mx, by }
}

/** What is left in any case: light is never quite as the model has it. */
const floor = 0.4

function judged(fit: Fit, own: readonly Reading[], others: readonly Reading[], name: string): CardSeen {
  const wrong: CardProblem[] = []
  const used = own.filter((_, k) => fit.off[k]!.weight >= 0.1)
  const doubted = others.filter((_, k) => fit.off[own.length + k]!.weight < 0.1).length
  if (fit.misfit > mostMisfit || doubted > mostDoubted * others.length) wrong.push('reference_off')
  else if (missing(used).length > 0 || own.length - used.length > 5) wrong.push('glare')
  const light = [...own, ...others].map(({ middle: at }) => fieldAt(fit.theta, at))
  const range = Math.max(...light) / Math.min(...light)
  if (others.some(({ middle: { x, y } }) => Math.hypot(x - middle.x, y - middle.y) > mostApart)) wrong.push('apart')
  const patches = fit.patches.slice(0, all)
  const off = Math.sqrt(patches.reduce((sum, { lab }, k) => sum + squared(lab, asPrinted.patches[k]!), 0) / all)
  if (off > furthestPrint) wrong.push('off_print')
  if (range > uneven[1]) wrong.push('uneven_light')
  if (wrong.length > 0) return refused(wrong, name)
  const se = ({ covariance }: Fit['patches'][number], k: number) => Math.hypot(floor, Math.sqrt(covariance[4 * k]!))
  return {
    reference: name, patches: patches.map(({ lab }) => lab), ses: patches.map((one) => ({ L: se(one, 0), a: se(one, 1), b: se(one, 2) })),
    problems: range > uneven[0] ? ['uneven_light'] : [],
  }
}

function squared(one: Lab, other: Lab): number {
  return (one.L - other.L) ** 2 + (one.a - other.a) ** 2 + (one.b - other.b) ** 2
}

/** What the photos of a card come to together. */
export interface CardColours {
  readonly patches: readonly Lab[]
  /** Standard uncertainty of each patch's components. */
  readonly ses: readonly Lab[]
  /** Of any component of any patch, as a root mean square. */
  readonly se: number
  /** Whether the photos differ from each other by no more than each of them leaves open. */
  readonly agree: boolean
}

/** Share of the variance of one photo that is taken to be the same in all: they share the reference, and those of one go camera and light. Beside a patch nearly all of it is the camera's. No source. */
const shared = { card: 0.5, patch: 0.9 } as const
/** How many times the variance that each photo states the photos may differ by. */
const mostApartPhotos = 4

/**
 * The mean of photos that were not refused, each by how sure it is. What each leaves open becomes less by what they do not
 * share; where they differ by more than that, it is what they differ by.
 */
export function together(seen: readonly CardSeen[], by: Reference['kind']): CardColours | undefined {
  const told = seen.filter(({ patches }) => patches !== undefined)
  if (told.length === 0) return undefined
  const ratios: number[] = []
  const of = (patch: number, part: 'L' | 'a' | 'b') => {
    const one = joined(told.map(({ patches, ses }) => ({ value: patches![patch]![part], se: ses[patch]![part] })), shared[by])
    ratios.push(one.ratio)
    return one
  }
  const each = asPrinted.patches.map((_, patch) => ({ L: of(patch, 'L'), a: of(patch, 'a'), b: of(patch, 'b') }))
  const ses = each.map(({ L, a, b }) => ({ L: L.se, a: a.se, b: b.se }))
  return {
    patches: each.map(({ L, a, b }) => ({ L: L.mean, a: a.mean, b: b.mean })), ses,
    se: Math.sqrt(ses.reduce((sum, { L, a, b }) => sum + L * L + a * a + b * b, 0) / (3 * all)),
    agree: ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length < mostApartPhotos,
  }
}

interface One {
  readonly value: number
  readonly se: number
}

function joined(photos: readonly One[], same: number): { readonly mean: number; readonly se: number; readonly ratio: number } {
  const n = photos.length
  const weights = photos.map(({ se }) => 1 / (se * se))
  const sum = weights.reduce((total, weight) => total + weight, 0)
  const mean = photos.reduce((total, { value }, k) => total + weights[k]! * value, 0) / sum
  const own = n / sum
  const spread = n === 1 ? 0 : (photos.reduce((total, { value }, k) => total + weights[k]! * (value - mean) ** 2, 0) / sum) * (n / (n - 1))
  return { mean, se: Math.sqrt(Math.max(own * (same + (1 - same) / n), spread / n)), ratio: spread / own }
}
