// What measuring makes of rendered photos, counted by condition: the judge of it.

import { difference } from '../../colour/difference'
import { measure } from '../measure'
import type { Measurement, Point, Problem } from '../measurement'
import { readCodes } from './codes'
import { jpegOf, pixelsOf } from './jpeg'
import { render, type Truth } from './render'
import { drawScene, type Codes, type Condition, type Size } from './scenes'

/** One photo, measured. */
export interface Outcome {
  readonly condition: Condition
  readonly seed: number
  readonly truth: Truth
  readonly measured: Measurement
  readonly cardFound: boolean
  /** Another card's batch, or another head than the one beside it. */
  readonly wrong: boolean
  /** CIEDE2000; undefined where no colour was told. */
  readonly error: number | undefined
  /** Error over what was said of it, squared, of three components: chi-square with three degrees of freedom. */
  readonly chiSquare: number | undefined
  /** Of the spread, in parts of it. */
  readonly spreadError: number | undefined
  /** Error of the spread over what was said of it. */
  readonly spreadOff: number | undefined
}

/** Draws a scene, keeps it as a JPEG as phones do, opens that and measures it. A person's tap on the head comes along where asked. */
export async function outcomeOf(condition: Condition, seed: number, codes: Codes, touched: boolean, size?: Size): Promise<Outcome> {
  const { scene, quality, known } = drawScene(seed, condition, codes, size)
  const { photo, truth, card } = render(scene)
  const opened = await pixelsOf(await jpegOf(photo, { quality, progressive: seed % 4 === 0, halved: seed % 3 !== 0 }), photo.space)
  const cardOf = (batch: string) => (known && batch === codes.batch ? card : undefined)
  const measured = await measure(opened, readCodes, touched ? { cardOf, touched: [truth.middle] } : { cardOf })
  const { lab, se, spread, spreadSE } = measured
  const off = lab && se && [(lab.L - truth.lab.L) / se.L, (lab.a - truth.lab.a) / se.a, (lab.b - truth.lab.b) / se.b]
  return {
    condition, seed, truth, measured,
    cardFound: measured.card?.batch === codes.batch && cardOff(measured, truth) < 0.05,
    wrong: isWrong(measured, truth),
    error: lab && difference(lab, truth.lab).total,
    chiSquare: off?.reduce((sum, v) => sum + v * v, 0),
    spreadError: spread === undefined ? undefined : spread / truth.spread - 1,
    spreadOff: spread === undefined || spreadSE === undefined ? undefined : (spread - truth.spread) / spreadSE,
  }
}

/** How far a corner is off at most, in breadths of the card. */
function cardOff({ card }: Measurement, { corners }: Truth): number {
  if (!card) return Infinity
  const breadth = Math.hypot(corners[1].x - corners[0].x, corners[1].y - corners[0].y)
  return Math.max(...card.corners.map(({ x, y }, i) => Math.hypot(x - corners[i]!.x, y - corners[i]!.y))) / breadth
}

function isWrong({ card, head, lab }: Measurement, truth: Truth): boolean {
  if (card !== undefined && card.batch !== truth.batch) return true
  return lab !== undefined && head !== undefined && !holds(truth.outline, middleOf(head.outline))
}

function middleOf(outline: readonly Point[]): Point {
  const mean = (of: (p: Point) => number) => outline.reduce((sum, p) => sum + of(p), 0) / outline.length
  return { x: mean((p) => p.x), y: mean((p) => p.y) }
}

/** By how often a line to the right crosses the outline. */
function holds(outline: readonly Point[], { x, y }: Point): boolean {
  return outline.filter((p, i) => {
    const q = outline[(i + 1) % outline.length]!
    return p.y > y !== q.y > y && x < p.x + ((y - p.y) / (q.y - p.y)) * (q.x - p.x)
  }).length % 2 === 1
}

/** What is counted of the outcomes of one condition. Shares are of those that they are of, and NaN of none. */
export interface Row {
  readonly photos: number
  /** Those a person would call usable, and those nobody would. */
  readonly usable: number
  readonly unusable: number
  /** Of usable ones: its card was found, and a colour was told. */
  readonly found: number
  readonly told: number
  /** Of all, how many: another card or head was measured. */
  readonly wrong: number
  /** Of usable ones of which a colour was told, with no wrong head. */
  readonly median: number
  readonly late: number
  readonly spread: number
  readonly spreadLate: number
  /** The 90 % region held the truth; the interval of the spread did. */
  readonly held: number
  readonly spreadHeld: number
  /** Of what was stated, the middle: root of the mean of the three squares. */
  readonly stated: number
  /** Of unusable ones: refused, and for a reason that is one. */
  readonly refused: number
  readonly rightly: number
}

/** 90 % of chi-square with three degrees of freedom; 90 % of a normal is within so many standard deviations. */
const within90 = 6.2514
const normal90 = 1.6449

export function rowOf(outcomes: readonly Outcome[]): Row {
  const usable = outcomes.filter(({ truth }) => truth.usable)
  const unusable = outcomes.filter(({ truth }) => truth.reasons.length > 0)
  const told = usable.filter(({ error, wrong }) => error !== undefined && !wrong)
  const errors = told.map(({ error }) => error!)
  const spreads = told.filter(({ spreadError }) => spreadError !== undefined)
  const refused = unusable.filter(({ measured }) => measured.refused)
  return {
    photos: outcomes.length, usable: usable.length, unusable: unusable.length,
    found: share(usable, ({ cardFound }) => cardFound), told: share(usable, ({ error }) => error !== undefined),
    wrong: outcomes.filter(({ wrong }) => wrong).length,
    median: quantile(errors, 0.5), late: quantile(errors, 0.95),
    spread: quantile(spreads.map(({ spreadError }) => Math.abs(spreadError!)), 0.5), spreadLate: quantile(spreads.map(({ spreadError }) => Math.abs(spreadError!)), 0.95),
    held: share(told, ({ chiSquare }) => chiSquare! <= within90),
    spreadHeld: share(spreads.filter(({ spreadOff }) => spreadOff !== undefined), ({ spreadOff }) => Math.abs(spreadOff!) <= normal90),
    stated: quantile(told.map(({ measured }) => Math.hypot(measured.se!.L, measured.se!.a, measured.se!.b)), 0.5),
    refused: share(unusable, ({ measured }) => measured.refused),
    rightly: share(refused, (outcome) => namesReason(outcome)),
  }
}

/** Any of the reasons will do: a photo that is too dark to find the card in may say either. */
function namesReason({ measured, truth }: Outcome): boolean {
  const same = (reason: Problem) => alike[reason] ?? [reason]
  return truth.reasons.flatMap(same).some((reason) => measured.problems.includes(reason))
}

/** What says the same to whoever holds the camera, of cards of which too little is seen. */
const alike: Partial<Record<Problem, readonly Problem[]>> = {
  far: ['far', 'no_card'],
  cut_off: ['cut_off', 'no_card'],
  head_cut_off: ['head_cut_off', 'no_head'],
}

const share = <T>(of: readonly T[], are: (one: T) => boolean) => of.filter(are).length / of.length

export function quantile(values: readonly number[], p: number): number {
  const sorted = values.toSorted((a, b) => a - b)
  const at = p * (sorted.length - 1)
  const below = sorted[Math.floor(at)] ?? NaN
  return below + (at % 1) * ((sorted[Math.ceil(at)] ?? NaN) - below)
}

export function tableOf(rows: readonly (readonly [string, Row])[]): string {
  const heads = ['condition', 'photos', 'usable', 'found', 'told', 'wrong', 'dE median', '95 %', 'stated', '90 % held', 'spread', '95 %', '90 % held', 'unusable', 'refused', 'rightly']
  const percent = (v: number) => (Number.isNaN(v) ? '' : `${(100 * v).toFixed(1)} %`)
  const number = (v: number) => (Number.isNaN(v) ? '' : v.toFixed(2))
  const lines = rows.map(([name, r]) => [
    name, String(r.photos), String(r.usable), percent(r.found), percent(r.told), String(r.wrong), number(r.median), number(r.late), number(r.stated), percent(r.held),
    percent(r.spread), percent(r.spreadLate), percent(r.spreadHeld), String(r.unusable), percent(r.refused), percent(r.rightly),
  ])
  const all = [heads, heads.map(() => '---'), ...lines]
  const widths = heads.map((_, i) => Math.max(...all.map((line) => line[i]!.length)))
  return all.map((line) => `| ${line.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!))).join(' | ')} |`).join('\n')
}

/** How stated uncertainty goes with error: usable and doubtful photos in five parts by what was stated. */
export function calibrationOf(outcomes: readonly Outcome[]): readonly { readonly stated: number; readonly error: number; readonly photos: number }[] {
  const told = outcomes.filter(({ error, wrong }) => error !== undefined && !wrong)
    .map(({ error, measured }) => ({ error: error!, stated: Math.hypot(measured.se!.L, measured.se!.a, measured.se!.b) }))
    .toSorted((p, q) => p.stated - q.stated)
  const parts = 5
  return Array.from({ length: parts }, (_, i) => told.slice(Math.floor((i * told.length) / parts), Math.floor(((i + 1) * told.length) / parts)))
    .filter((part) => part.length > 0)
    .map((part) => ({ stated: quantile(part.map(({ stated }) => stated), 0.5), error: quantile(part.map(({ error }) => error), 0.5), photos: part.length }))
}
