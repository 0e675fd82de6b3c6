// Finds the flower head beside the card in a photo: which pixels it has, which of them make its colour, how wide it is.

import type { Calibration } from './calibration'
import { beside, candidates, fieldOf, largest, middleOf, type Candidate, type Field } from './candidates'
import { cardHeight, cardWidth } from './geometry'
import { reduced, type Box, type LabImage } from './labimage'
import { withoutHoles } from './mask'
import type { Point, Problem } from './measurement'
import { areaOf, outlineOf } from './outline'
import { petalsOf } from './petals'
import type { Picture } from './picture'
import { fromCard, placeOf, toPlaneOf, type ToPlane } from './plane'
import { pixelsToMillimetre, through, type Pose } from './pose'
import { cellsOf } from './regions'
import { refinedMask, type HeadMask } from './headmask'
import { spreadOf, type Spread } from './spread'
import { touchedRegion } from './touched'

/** A photo in which a card was found. */
export interface Scene {
  readonly picture: Picture
  readonly pose: Pose
  readonly calibration: Calibration
  /** Corners of tags' codes in the photo. */
  readonly codes: readonly (readonly Point[])[]
}

export interface Head {
  readonly by: 'proposed' | 'touched'
  /** In pixels of the photo, all the way round. */
  readonly outline: readonly Point[]
  readonly petals: Petals
  /** undefined where it reaches beyond the horizon of the card's plane. */
  readonly spread: Spread | undefined
  /** Millimetres from the card's edge to the head's. */
  readonly gap: number
}

/** The pixels that make a head's colour. */
export interface Petals {
  /** In pixels of the picture. */
  readonly box: Box
  /** 1 for each pixel of the box that is one of them, by rows. */
  readonly on: Uint8Array
}

export interface HeadFinding {
  readonly head: Head | undefined
  /** Where in the photo else a head may be, the likeliest first: to be offered for a tap. */
  readonly others: readonly Point[]
  /** no_head, head_unclear, head_apart, head_cut_off, out_of_plane. */
  readonly problems: readonly Problem[]
}

/** The head that was touched, or else the one that stands beside the card. touched are pixels of the photo. */
export function findHead(scene: Scene, touched?: readonly Point[]): HeadFinding {
  const toPlane = toPlaneOf(scene.pose)
  const survey = surveyed(scene, toPlane)
  const asked = touched !== undefined && touched.length > 0
  const choice = asked ? touchedRegion(survey.field, touched) : proposed(survey.field)
  if (choice === undefined) return { head: undefined, others: [], problems: ['no_head'] }
  const mask = refinedMask(scene.picture, scene.calibration, survey.field.image, choice.rough, survey.closed)
  if (mask === undefined) return { head: undefined, others: choice.others, problems: ['no_head'] }
  const head = measured(scene, mask, asked ? 'touched' : 'proposed', toPlane, survey.closed)
  const problems: Problem[] = []
  if (choice.others.length > 0) problems.push('head_unclear')
  if (head.gap > beside) problems.push('head_apart')
  if (cutOff(head.outline, scene.picture)) problems.push('head_cut_off')
  if (head.spread === undefined || head.spread.round < 0.6) problems.push('out_of_plane')
  return { head, others: choice.others, problems }
}

/** What was chosen: its pixels in the field's image. */
export interface Choice {
  readonly rough: Uint8Array
  readonly others: readonly Point[]
}

interface Survey {
  readonly field: Field
  /** Whether the card lies at a place of the photo. */
  readonly closed: (x: number, y: number) => boolean
}

/** What is looked through has so many pixels a millimetre at the card, unless its long side came to more than most. */
const fine = 1.1
const most = 400
/** A cell's side, in its pixels. */
const cellSide = 5

export function surveyed({ picture, pose, calibration, codes }: Scene, toPlane: ToPlane): Survey {
  const box = boxAround(picture, pose)
  const long = Math.max(box.right - box.left, box.bottom - box.top)
  const perMillimetre = pixelsToMillimetre(pose, { x: cardWidth / 2, y: cardHeight / 2 }) / picture.step
  const by = Math.max(1, Math.round(perMillimetre / fine), Math.ceil(long / most))
  const image = reduced(picture, box, by, calibration)
  const { width, height, left, top, step } = image
  const margin = 0.5 + (0.7 * by) / perMillimetre
  const open = new Uint8Array(width * height)
  const covered = new Uint8Array(width * height)
  const tagged = new Uint8Array(width * height)
  const tags = codes.map((corners) => enlarged(corners, aroundCode))
  for (let y = 0, p = 0; y < height; y++) {
    for (let x = 0; x < width; x++, p++) {
      covered[p] = onCard(toPlane, left + (x + 0.5) * step, top + (y + 0.5) * step, margin) ? 1 : 0
      open[p] = 1 - covered[p]!
      tagged[p] = tags.some((tag) => within(tag, left + (x + 0.5) * step, top + (y + 0.5) * step)) ? 1 : 0
    }
  }
  const cells = cellsOf(image, open, cellSide)
  return { field: fieldOf(image, cells, covered, tagged, toPlane), closed: (x, y) => onCard(toPlane, x, y, 0.5) }
}

/** A tag is white for at least so much around its code, in the code's own size. */
const aroundCode = 1.4

function enlarged(corners: readonly Point[], by: number): readonly Point[] {
  const mean = (of: (p: Point) => number) => corners.reduce((sum, p) => sum + of(p), 0) / corners.length
  const [x, y] = [mean((p) => p.x), mean((p) => p.y)]
  return corners.map((p) => ({ x: x + by * (p.x - x), y: y + by * (p.y - y) }))
}

/** Whether a place lies within corners that go round clockwise. */
function within(corners: readonly Point[], x: number, y: number): boolean {
  return corners.every((p, i) => {
    const q = corners[(i + 1) % corners.length]!
    return (q.x - p.x) * (y - p.y) - (q.y - p.y) * (x - p.x) >= 0
  })
}

/** What of the picture may hold a head beside the card, or a little apart. */
function boxAround(picture: Picture, pose: Pose): Box {
  const reach = beside + 1.5 * largest
  const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]].map(([x, y]) => photoAt(pose, cardWidth / 2 + x! * (cardWidth / 2 + reach), cardHeight / 2 + y! * (cardHeight / 2 + reach)))
  const whole = { left: 0, top: 0, right: picture.width, bottom: picture.height }
  if (corners.includes(undefined)) return whole
  const xs = corners.map(p => p!.x / picture.step)
  const ys = corners.map(p => p!.y / picture.step)
  return {
    left: Math.max(0, Math.floor(Math.min(...xs))), top: Math.max(0, Math.floor(Math.min(...ys))),
    right: Math.min(picture.width, Math.ceil(Math.max(...xs))), bottom: Math.min(picture.height, Math.ceil(Math.max(...ys))),
  }
}

/** undefined for what lies behind the camera. */
function photoAt({ toPhoto }: Pose, x: number, y: number): Point | undefined {
  return toPhoto[6] * x + toPhoto[7] * y + toPhoto[8] > 0.05 ? through(toPhoto, x, y) : undefined
}

function onCard([a, b, c, d, e, f, g, h, i]: ToPlane, px: number, py: number, margin: number): boolean {
  const w = g * px + h * py + i
  const x = a * px + b * py + c
  const y = d * px + e * py + f
  return w > 0 && x > -margin * w && x < (cardWidth + margin) * w && y > -margin * w && y < (cardHeight + margin) * w
}

/** How much likelier than the next one a head must be, and how likely at all. */
const clearly = 1
const enough = 0

export function proposed(field: Field): Choice | undefined {
  const all = candidates(field)
  const near = all.filter(c => c.gap <= beside)
  const best = near[0] !== undefined && near[0].score > enough ? near[0] : all[0]
  const cut = cutHead(field, near, best)
  if (cut) return { rough: pixelsOf(field, cut.node), others: best && best.score > enough ? [middleOf(field, best.node)] : [] }
  if (best === undefined || best.score <= enough) return undefined
  const rivals: Candidate[] = []
  for (const c of near) {
    if (c.score < best.score - clearly || c.score <= enough) break
    if ([best, ...rivals].every(other => apart(field, c.node, other.node))) rivals.push(c)
  }
  return { rough: pixelsOf(field, best.node), others: rivals.map(c => middleOf(field, c.node)) }
}

/** Part of a region's outline on the photo's border from which the frame cuts it; of a disc of which half is left it is 0.39. */
const [cutFrom, mostCut] = [0.03, 0.45]
/** What is narrower is a strip of ground along the border; half a disc is 0.53. */
const leastRound = 0.48
/** Millimetres by which it may begin farther away. */
const notFarther = 10

/**
 * A head that the frame cuts and that stands as near to the card as the best whole one, which is then another plant's;
 * taken for what it is, so that the photo is refused and not the other head measured.
 */
function cutHead(field: Field, near: readonly Candidate[], best: Candidate | undefined): Candidate | undefined {
  const whole = best !== undefined && best.score > enough ? best : undefined
  const cut = near.filter((c) => c.onBorder > cutFrom && c.onBorder < mostCut && c.round > leastRound && c.uncut > enough)
    .filter((c) => !whole || (c.uncut > whole.score && c.gap < whole.gap + notFarther && apart(field, c.node, whole.node)))
  return cut.toSorted((a, b) => b.uncut - a.uncut)[0]
}

function apart({ tree }: Field, a: number, b: number): boolean {
  return tree.to[a]! <= tree.from[b]! || tree.to[b]! <= tree.from[a]!
}

/** The pixels of a region and what it encloses. */
export function pixelsOf({ cells, tree, image: { width, height } }: Field, node: number): Uint8Array {
  const within = new Uint8Array(cells.count)
  for (let k = tree.from[node]!; k < tree.to[node]!; k++) within[tree.order[k]!] = 1
  const on = new Uint8Array(cells.of.length)
  for (let p = 0; p < on.length; p++) on[p] = cells.of[p]! >= 0 ? within[cells.of[p]!]! : 0
  return withoutHoles({ width, height, on }).on
}

function measured(scene: Scene, mask: HeadMask, by: Head['by'], toPlane: ToPlane, closed: Survey['closed']): Head {
  const outline = outlineOf(scene.picture, mask, closed)
  const points: Point[] = []
  let gap = Infinity
  for (let k = 0; k < outline.points.length; k += 2) {
    const [x, y] = [outline.points[k]!, outline.points[k + 1]!]
    points.push({ x, y })
    const place = placeOf(toPlane, x, y)
    if (place !== undefined) gap = Math.min(gap, fromCard(place))
  }
  const photo = { width: scene.picture.width * scene.picture.step, height: scene.picture.height * scene.picture.step }
  return { by, outline: points, petals: inPicture(mask.image, petalsOf(mask), scene.picture), spread: spreadOf(outline, scene.pose, photo), gap }
}

function inPicture(image: LabImage, chosen: Uint8Array, { step }: Picture): Petals {
  const by = image.step / step
  const [left, top, width, height] = [image.left / step, image.top / step, image.width * by, image.height * by]
  const on = new Uint8Array(width * height)
  for (let y = 0, p = 0; y < height; y++) {
    const row = Math.floor(y / by) * image.width
    for (let x = 0; x < width; x++, p++) on[p] = chosen[row + Math.floor(x / by)]!
  }
  return { box: { left, top, right: left + width, bottom: top + height }, on }
}

/** In parts of a head's diameter: how near to the photo's border it is cut off, which smoothing has drawn it back from, and how much of it must lie there. */
const nearBorder = 0.025
const alongBorder = 0.4

/** Whether the photo's border cuts a head off, and does not merely touch it. */
function cutOff(outline: readonly Point[], { width, height, step }: Picture): boolean {
  const across = Math.sqrt((4 * Math.abs(areaOf(Float64Array.from(outline.flatMap(({ x, y }) => [x, y]))))) / Math.PI)
  const near = nearBorder * across + 2 * step
  const sides: readonly [(p: Point) => number, (p: Point) => number][] = [
    [(p) => p.x, (p) => p.y], [(p) => width * step - p.x, (p) => p.y], [(p) => p.y, (p) => p.x], [(p) => height * step - p.y, (p) => p.x],
  ]
  return sides.some(([from, along]) => {
    const there = outline.filter((p) => from(p) < near).map(along)
    return there.length > 1 && Math.max(...there) - Math.min(...there) > alongBorder * across
  })
}
