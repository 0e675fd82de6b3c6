// An ask answered: with what chance so many stems can be had beside all that is promised, how many are safe, and what would
// help.

import { addDays } from '../crop/day'
import { type Least } from '../crop/line_needs'
import { type ColourID, type Day, type Farm, gradesHighToLow, type Millimetres, type ToldGrade } from '../crop/nouns'
import { type SaleTerms } from '../crop/sale_nouns'
import { usualBreakCost } from '../crop/ahead_nouns'
import { bestOf, mayFail } from './best_day'
import { comingOf } from './coming'
import { cutFor, type Wish } from './demands'
import type { Draws } from './draws'
import { lastCut, openPromises } from './open_promises'

/** Which stems will do. */
export interface Kinds extends Least {
  /** None is any. */
  readonly colours: readonly ColourID[]
}

/** What somebody would have. */
export interface Asked extends Kinds {
  readonly stems: number
  /** The same as `due` for a day; Monday and Sunday of a week of which any day will do. */
  readonly from: Day
  readonly due: Day
}

export type Answer =
  | { readonly kind: 'past' }
  /** Behind all that the forecast tells of; last is its last day. */
  | { readonly kind: 'beyond'; readonly last: Day }
  | ({ readonly kind: 'told' } & Told)

export interface Told {
  /** On which they would be delivered: of a week the day on which most is safe. */
  readonly day: Day
  /** Stems that could be had, by draw, ascending. */
  readonly most: Int32Array
  /** Stems promised already that are cut of the same. */
  readonly promised: number
}

/** Nine in ten, the odds that people ask for. */
export const nineInTen = 0.9

/**
 * From which chance on a promise pays. Kept it brings its price, broken it costs c times that: it pays while
 * p - (1 - p) c >= 0, that is p >= c / (1 + c).
 */
export function keepChance({ breakCost }: Pick<SaleTerms, 'breakCost'>): number {
  const cost = (breakCost || usualBreakCost) / 100
  return cost / (1 + cost)
}

export function answerTo(farm: Pick<Farm, 'sales' | 'lots'>, draws: Draws, today: Day, asked: Asked): Answer {
  if (asked.due < today) return { kind: 'past' }
  const promised = openPromises(farm, draws, today)
  const wishes = daysOf(asked, today).map((day) => wishOn(farm, asked, day))
    .filter(({ from }) => from <= lastCut(draws, today))
  const best = bestOf(promised, wishes, keepChance(farm.sales.terms))
  if (!best) return { kind: 'beyond', last: comingOf(draws).last }
  const wish = wishes[best.at]!
  return { kind: 'told', day: wish.to, most: best.most, promised: promised.beside(wish).reduce((sum, { stems }) => sum + stems, 0) }
}

function wishOn({ sales }: Pick<Farm, 'sales'>, { colours, grade, length }: Kinds, day: Day): Wish {
  return { ...cutFor(sales.terms, day), colours, grade, length }
}

/** Asks every draw for a day before anybody does: what was asked once is known. */
export function askAhead(farm: Pick<Farm, 'sales' | 'lots'>, draws: Draws, today: Day, kinds: Kinds, day: Day): void {
  const wish = wishOn(farm, kinds, day)
  if (wish.from > lastCut(draws, today)) return
  const asking = openPromises(farm, draws, today).asking(wish)
  for (let draw = 0; draw < draws.n; draw++) asking(draw)
}

function daysOf({ from, due }: Asked, today: Day): Day[] {
  const days: Day[] = []
  for (let day = from < today ? today : from; day <= due; day = addDays(day, 1)) days.push(day)
  return days
}

/** In what part of the draws so many can be had. */
export function chanceOf({ most }: Pick<Told, 'most'>, stems: number): number {
  let [low, high] = [0, most.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if (most[middle]! < stems) low = middle + 1
    else high = middle
  }
  return most.length === 0 ? 0 : (most.length - low) / most.length
}

/** The most that can be had with a chance of at least so much, in whole bunches of so many stems. */
export function safeAt({ most }: Pick<Told, 'most'>, chance: number, bunch = 1): number {
  const stems = most[mayFail(most.length, chance)] ?? 0
  return stems - (stems % bunch)
}

/** What else could be asked for, and how much of it is safe. */
export type Help = { readonly safe: number } & (
  | { readonly kind: 'colour'; readonly colour: ColourID }
  | { readonly kind: 'grade'; readonly grade: ToldGrade }
  | { readonly kind: 'length'; readonly length: Millimetres }
  | { readonly kind: 'day'; readonly day: Day }
  | { readonly kind: 'week'; readonly from: Day }
)

/** What one change of an ask is tried on. */
export interface Trying {
  readonly asked: Asked
  /** What was answered without it. */
  readonly told: Told
  readonly change: Changed
  /** Only whole bunches of so many stems count. */
  readonly bunch: number
}

/** What comes of a change of an ask, where it makes more of it safe. */
export function helpOf(farm: Pick<Farm, 'sales' | 'lots'>, draws: Draws, today: Day, { asked, told, change, bunch }: Trying): Help | undefined {
  const odds = keepChance(farm.sales.terms)
  const answer = answerTo(farm, draws, today, { ...asked, ...change.as })
  const safe = answer.kind === 'told' ? safeAt(answer, odds, bunch) : 0
  return safe > safeAt(told, odds, bunch) ? { ...change.help, safe } : undefined
}

/** Of Help without what came of it. */
type Change = Help extends infer H ? H extends Help ? Omit<H, 'safe'> : never : never

/** An ask with one thing otherwise. */
export interface Changed {
  readonly as: Partial<Asked>
  readonly help: Change
}

/** All that is worth trying: one colour more, a grade lower, a length class shorter, a day or two or a week later. */
export function changesOf(asked: Asked, draws: Draws): Changed[] {
  return [...moreColours(asked, draws), ...lesserGrade(asked), ...shorter(asked, draws), ...laterOn(asked)]
}

function moreColours({ colours }: Asked, draws: Draws): Changed[] {
  if (colours.length === 0) return []
  const others = draws.colours.filter((colour) => colour !== '' && !colours.includes(colour))
  return others.map((colour) => ({ as: { colours: [...colours, colour as ColourID] }, help: { kind: 'colour', colour: colour as ColourID } }))
}

function lesserGrade({ grade }: Asked): Changed[] {
  const lesser = grade === '' ? undefined : gradesHighToLow[gradesHighToLow.indexOf(grade) + 1]
  return lesser === undefined || lesser === 'out' ? [] : [{ as: { grade: lesser }, help: { kind: 'grade', grade: lesser } }]
}

function shorter({ length }: Asked, draws: Draws): Changed[] {
  const next = draws.lengths.filter((edge) => edge < length).at(-1) as Millimetres | undefined
  return next === undefined ? [] : [{ as: { length: next }, help: { kind: 'length', length: next } }]
}

function laterOn({ from, due }: Asked): Changed[] {
  const by = (days: number) => ({ from: addDays(from, days), due: addDays(due, days) })
  if (from !== due) return [{ as: by(7), help: { kind: 'week', from: addDays(from, 7) } }]
  return [1, 2, 7].map((days) => ({ as: by(days), help: { kind: 'day', day: addDays(due, days) } }))
}
