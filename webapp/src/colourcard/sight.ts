// What is seen of the card in a photo, and what is wrong with it: all that does not need the head.

import { asPrinted } from './as_printed'
import { cardIn, type Card } from './card'
import { fieldAt, fitted, vividness, type Fit } from './fit'
import { cardHeight, cardVersion, cardWidth, codeModule, greys, paper } from './geometry'
import type { Asked, KnownCard, Photo, Problem, ReadCodes } from './measurement'
import { readings, type Reading } from './patches'
import type { Picture } from './picture'
import { cornersOf, pixelsToMillimetre } from './pose'
import { sharpestBlur } from './sharpness'
import { slantOf } from './slant'

export interface Sight {
  readonly card: Card | undefined
  readonly known: KnownCard | undefined
  readonly readings: readonly Reading[]
  readonly fit: Fit | undefined
  readonly problems: ReadonlySet<Problem>
  /** Those of them for which no colour can be told. */
  readonly refusing: ReadonlySet<Problem>
}

/** Degrees from which a card is told to be slanted, and from which it is refused. */
const slanted = [46, 53] as const
/** Standard deviation of the blur, in modules of the code. */
const blurred = [0.42, 0.75] as const
/** Pixels to a millimetre. */
const far = [2.6, 1.6] as const
/** Of the card's readings, this share must agree with each other. */
const leastAgreeing = 0.6

class Wrong {
  readonly problems = new Set<Problem>()
  readonly refusing = new Set<Problem>()

  tell(problem: Problem, is: boolean, refuses = false): void {
    if (is || refuses) this.problems.add(problem)
    if (refuses) this.refusing.add(problem)
  }
}

export async function sightOf(photo: Photo, picture: Picture, readCodes: ReadCodes, asked: Asked): Promise<Sight> {
  const wrong = new Wrong()
  const card = await cardIn(photo, picture, readCodes)
  const none = { card, known: undefined, readings: [], fit: undefined, ...wrong }
  if (!card?.named) {
    unread(wrong, photo, picture, card)
    return none
  }
  seenWell(wrong, photo, card)
  wrong.tell('other_layout', false, card.named.version !== cardVersion)
  if (wrong.refusing.has('other_layout')) return none
  const batch = asked.cardOf(card.named.batch)
  wrong.tell('unknown_card', batch === undefined)
  wrong.tell('retired_card', false, batch?.retired === true)
  const known = batch ?? asPrinted
  const seen = readings(photo, card.pose, card.blur)
  const plain = seen.filter(({ agreeing }) => agreeing >= leastAgreeing)
  const fit = fitted(plain, known, photo.space)
  judged(wrong, seen, plain, fit)
  return { card, known, readings: seen, fit, ...wrong }
}

/** Blur of the sharpest edges, in breadths of the frame, from which no card can be found in it; and the light of what is lightest. */
const allBlurred = 0.0022
const allDark = 0.02
/** Share of a card's edges that no other thing has. */
const surelyCard = 0.6
/** Share of the picture that is burnt out. */
const allBurnt = 0.2

/** Why no card can be read: because of the whole photo, or of how the card is held, or since there is none. */
function unread(wrong: Wrong, photo: Photo, picture: Picture, card: Card | undefined): void {
  const blur = sharpestBlur(picture)
  wrong.tell('blurred', false, blur !== undefined && blur > allBlurred * Math.max(photo.width, photo.height))
  const { burnt, bright } = lightIn(picture)
  wrong.tell('dark', false, bright < allDark)
  if (wrong.refusing.size === 0 && burnt <= allBurnt && card) seenWell(wrong, photo, card)
  // What lies there has a card's edges, and only its code cannot be read: under a reflection, or a thumb.
  const hidden = wrong.refusing.size === 0 && burnt <= allBurnt && card !== undefined && card.share > surelyCard
  wrong.tell('glare', false, hidden)
  wrong.tell('covered', false, hidden)
  wrong.tell('no_card', false, wrong.refusing.size === 0)
  // A card may have burnt out, or there is a sky and no card: nothing tells which.
  wrong.tell('burnt_out', false, burnt > allBurnt)
}

/** The share of a picture with a channel at its upper end, and the green light that one place in a hundred exceeds. */
function lightIn({ light, ends }: Picture): { readonly burnt: number; readonly bright: number } {
  let burnt = 0
  for (const bits of ends) if ((bits & 7) !== 0) burnt++
  const some = Float32Array.from({ length: 4000 }, (_, k) => light[3 * Math.floor(((k + 0.5) / 4000) * ends.length) + 1]!).sort()
  return { burnt: burnt / ends.length, bright: some[Math.floor(0.99 * some.length)]! }
}

function seenWell(wrong: Wrong, photo: Photo, card: Card): void {
  const scale = pixelsToMillimetre(card.pose, { x: cardWidth / 2, y: cardHeight / 2 })
  wrong.tell('far', scale < far[0], scale < far[1])
  const slant = slantOf(card.pose, photo)
  wrong.tell('slanted', slant > slanted[0], slant > slanted[1])
  wrong.tell('blurred', card.blur > blurred[0] * codeModule, card.blur > blurred[1] * codeModule)
  wrong.tell('cut_off', false, cornersOf(card.pose).some(({ x, y }) => x < 0 || y < 0 || x > photo.width || y > photo.height))
}

/** Patches that must be left to measure by. */
const leastPatches = 8

function judged(wrong: Wrong, seen: readonly Reading[], plain: readonly Reading[], fit: Fit | undefined): void {
  const unburnt = plain.filter(({ colour, burnt }) => colour < 5 && burnt.every((share) => share < 0.02))
  const burnt = seen.filter((reading) => reading.burnt.some((share) => share > 0.5)).length
  wrong.tell('burnt_out', false, new Set(unburnt.map(({ colour }) => colour)).size < 3 && burnt > 6)
  const lightest = Math.max(0, ...seen.flatMap(({ value }) => value))
  wrong.tell('dark', lightest < 70 / 255, lightest < 40 / 255)
  if (!fit) return wrong.tell('covered', true, true)
  const out = plain.filter((_, k) => fit.off[k]!.weight < 0.1)
  const shining = plain.filter((_, k) => fit.off[k]!.weight < 0.1 && fit.off[k]!.excess > 0)
  const mixed = seen.filter(({ agreeing }) => agreeing < leastAgreeing)
  const bright = shining.length + mixed.filter(({ brighter }) => brighter).length
  const hidden = out.length - shining.length + mixed.filter(({ brighter }) => !brighter).length
  wrong.tell('glare', bright >= 3, bright > 8)
  wrong.tell('covered', hidden >= 3, plain.length - out.length < leastPatches || hidden > 8)
  const pale = vividness(fit.theta) < palest
  const odd = otherColours(seen, plain, fit).size >= 2
  wrong.tell('faded_card', pale || odd, pale && odd)
  const uneven = unevenIn(fit)
  wrong.tell('uneven_light', uneven > unevenLight[0], uneven > unevenLight[1])
}

/** The greys and the paper are these colours of the card; the others fade first. */
const isInk = (colour: number) => colour >= greys && colour !== paper

/**
 * Inks that are, each of one colour all over, another colour than is known of them: faded, or of another batch. A
 * finger that covers a corner covers its grey too, so that those around such a corner do not count.
 */
function otherColours(seen: readonly Reading[], plain: readonly Reading[], fit: Fit): ReadonlySet<number> {
  const low = plain.filter((_, k) => fit.off[k]!.weight < 0.1)
  const hiddenCorners = seen.filter(({ colour, patch, agreeing }) => patch !== undefined && colour === middleGrey && agreeing < leastAgreeing)
    .concat(low.filter(({ colour }) => colour === middleGrey))
  const atCorner = ({ middle }: Reading) => hiddenCorners.some((corner) => Math.hypot(corner.middle.x - middle.x, corner.middle.y - middle.y) < besideCorner)
  return new Set(low.filter((reading) => isInk(reading.colour) && reading.agreeing > 0.95 && !atCorner(reading)).map(({ colour }) => colour))
}

/** The grey in the four corners, and in millimetres how far the next patches are from it. */
const middleGrey = 2
const besideCorner = 23

/** Cameras make things as vivid as they are, or more so: where the card seems paler than this, it is the card. */
const palest = 0.93

/** Most over least light on the card, as it was fitted, from which it is told and refused. */
const unevenLight = [1.3, 1.7] as const

function unevenIn({ theta }: Fit): number {
  const light = [[0, 0], [cardWidth, 0], [cardWidth, cardHeight], [0, cardHeight]].map(([x, y]) => fieldAt(theta, { x: x!, y: y! }))
  return Math.max(...light) / Math.min(...light)
}
