// From a photo to the colour of the head in it: find the card, learn light and camera from it, find the head, tell its
// colour and spread and how sure they are, or why they cannot be told.

import type { Lab } from '../colour/lab'
import { calibrationOf } from './calibration'
import { cardHeight, cardWidth } from './geometry'
import { findHead, type Head } from './head'
import { headColour, sampledOf, type HeadColour } from './head_colour'
import { problems, type Asked, type FoundCard, type KnownCard, type Measurement, type Photo, type Point, type Problem, type ReadCodes } from './measurement'
import { pictureOf } from './picture'
import { toPlaneOf } from './plane'
import { cornersOf, photoOf } from './pose'
import { clear, doubtful, shadowBetween } from './shadow'
import { sightOf, type Sight } from './sight'

/** Pixels of the long side of what is looked at, at least. */
const side = 1000

export async function measure(photo: Photo, readCodes: ReadCodes, asked: Asked): Promise<Measurement> {
  const picture = pictureOf(photo, side)
  const sight = await sightOf(photo, picture, readCodes, asked)
  const { card, fit, known } = sight
  if (!card || !fit || !known) return refusal(sight)
  const calibration = calibrationOf(fit, card.pose)
  const found = findHead({ picture, pose: card.pose, calibration, codes: card.others }, asked.touched)
  const shadow = found.head && shadowBetween(picture, toPlaneOf(card.pose), photoOf(card.pose, cardMiddle), middleOf(found.head.outline))
  const elsewhere = shadow && shadow.clear >= doubtful ? inDoubt * shadow.step : 0
  const colour = found.head && headColour(sampledOf(picture, found.head.petals), card.pose, fit, calibration, { light: elsewhere, print: sight.problems.has('unknown_card') ? unmeasured : nothingMore })
  const wrong = new Set([...sight.problems, ...found.problems])
  const refusing = new Set([...sight.refusing, ...found.problems.filter((problem) => problem === 'no_head' || problem === 'head_cut_off')])
  if (shadow && shadow.clear >= doubtful) wrong.add('uneven_light')
  if (shadow && shadow.clear >= clear) refusing.add('uneven_light')
  if (!colour) refusing.add('no_head')
  else judged(wrong, refusing, colour)
  return told(sight, found.head, colour, known, wrong, refusing)
}

const cardMiddle = { x: cardWidth / 2, y: cardHeight / 2 }

function middleOf(outline: readonly Point[]): Point {
  const mean = (of: (p: Point) => number) => outline.reduce((sum, p) => sum + of(p), 0) / outline.length
  return { x: mean((p) => p.x), y: mean((p) => p.y) }
}

/** Standard uncertainties that come on top where nobody has measured the batch. */
const nothingMore: Lab = { L: 0, a: 0, b: 0 }
/**
 * What printers and papers do to all patches alike, which they do not show among each other: a black that is none, a
 * paper's tint, weak inks. A guess, of the size of what the rendered prints of testing/printed.ts do.
 */
const unmeasured: Lab = { L: 4.5, a: 3, b: 3 }

/** Standard deviation of the light on the head over that on the card, in parts of the step of what may be a shadow between them: most such are none. */
const inDoubt = 0.15

function judged(wrong: Set<Problem>, refusing: Set<Problem>, { burnt, black, lab }: HeadColour): void {
  if (burnt > 0.03) wrong.add('burnt_out')
  if (burnt > 0.25) refusing.add('burnt_out')
  // In the dark all channels are at their beginning, which says nothing of the colour.
  if (black > 0.05 && !refusing.has('dark')) wrong.add('lost_colour')
  if (black > 0.25 && !refusing.has('dark')) refusing.add('lost_colour')
  // Nothing sends back more than all light: there is more of it on the head than on the card.
  if (lab.L > 101) refusing.add('uneven_light')
}

/** The card and what is wrong in a frame of the camera, without the head. */
export async function look(photo: Photo, readCodes: ReadCodes, asked: Asked): Promise<Measurement> {
  return refusal(await sightOf(photo, pictureOf(photo, side), readCodes, asked))
}

function refusal(sight: Sight): Measurement {
  return { ...nothing, card: cardOf(sight), problems: inOrder(sight.problems), refused: sight.refusing.size > 0 }
}

const nothing: Omit<Measurement, 'card' | 'problems' | 'refused'> = { lab: undefined, se: undefined, spread: undefined, spreadSE: undefined, head: undefined, quality: 0 }

function told(sight: Sight, head: Head | undefined, colour: HeadColour | undefined, { scale, scaleSE }: KnownCard, wrong: Set<Problem>, refusing: Set<Problem>): Measurement {
  const refused = refusing.size > 0
  const se = (k: number) => Math.sqrt(colour!.covariance[4 * k]!)
  return {
    card: cardOf(sight),
    lab: refused ? undefined : colour?.lab,
    se: refused || !colour ? undefined : { L: se(0), a: se(1), b: se(2) },
    spread: refused || !head?.spread ? undefined : (head.spread.width * scale) / 10,
    spreadSE: refused || !head?.spread ? undefined : Math.hypot(head.spread.se * scale, head.spread.width * scaleSE) / 10,
    head: head && { outline: head.outline, by: head.by },
    quality: refused ? 0 : Math.max(5, 100 - 15 * wrong.size),
    problems: inOrder(new Set([...wrong, ...refusing])),
    refused,
  }
}

function cardOf({ card }: Sight): FoundCard | undefined {
  return card?.named && { ...card.named, corners: cornersOf(card.pose) }
}

function inOrder(wrong: ReadonlySet<Problem>): Problem[] {
  return problems.filter((problem) => wrong.has(problem))
}
