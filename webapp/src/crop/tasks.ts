// What is to be done in a season: it follows from the stage of the crop, by bed or by stock, and from what was said of it.
// Two phones that know the same derive the same tasks under the same ids.

import type { GrownTaskKind, Task, TaskID, TaskKind } from './ahead_nouns'
import { taskIDOf } from './ahead_ids'
import { addDays, daysBetween } from './day'
import { type ExpectedCut, FirstCuts } from './first_cuts'
import { heaviestWeek, littleLeftFrom } from './flush_weeks'
import type { BedID, Day, Farm, PersonID, Season, StockID } from './nouns'
import type { Outlook, OutlookWeek } from './outlook'
import { seasonOf, springOf } from './season'
import { type BedGround, dividedOn, earliest, eventDay, groundsOf, motherDay, oldEnough, plannedDivisions, standDay } from './task_grounds'
import { aroundFirstCut, aroundSpring, beforePlanting, cutBackWithin, type Days, lapsesAfter, nextSeasonWithin } from './task_practice'

/** 'late': its last day is over and it still helps; 'lapsed': it helps no more. */
export type TaskState = 'coming' | 'due' | 'late' | 'done' | 'dropped' | 'lapsed'

/** Why a task is to be done then. */
export type Why =
  | { readonly by: 'first_cut'; readonly cut: ExpectedCut }
  | { readonly by: 'heaviest'; readonly week: OutlookWeek }
  | { readonly by: 'little'; readonly from: Day }
  | { readonly by: 'spring'; readonly from: Day }
  | { readonly by: 'planned' | 'old'; readonly plants: number }
  | { readonly by: 'planting'; readonly day: Day }
  | { readonly by: 'own' }

export interface TaskNow {
  readonly id: TaskID
  readonly kind: TaskKind
  readonly season: Season
  readonly bed: BedID | ''
  readonly stock: StockID | ''
  /** The days in which it is to be done; '' of an own task without a day. */
  readonly first: Day | ''
  readonly last: Day | ''
  readonly why: Why
  readonly state: TaskState
  /** The day it was put off to. */
  readonly putOff: Day | ''
  readonly done: Day | ''
  /** The record shows it: it was not ticked. */
  readonly shown: boolean
  readonly person: PersonID | ''
  /** Of an own task. */
  readonly what: string
}

/** What a task follows from, before what was said of it. */
interface Grown {
  readonly kind: GrownTaskKind
  readonly of: BedID | StockID
  readonly bed: BedID | ''
  readonly stock: StockID | ''
  readonly first: Day
  readonly last: Day
  readonly why: Why
  /** The day on which the record shows it done. */
  readonly deed: Day | ''
}

/** Of the whole farm: the place of a bed in the id of a task that is of none. */
export const wholeFarm = 'farm' as BedID

/** Every task of the season of a day, of the next what begins soon, and own tasks; what is to be done first, first. */
export function tasksOf(farm: Farm, today: Day, outlook: Outlook | undefined): TaskNow[] {
  const season = seasonOf(farm.calendar, today)
  const next = (season + 1) as Season
  const soon = addDays(today, nextSeasonWithin)
  return [
    ...grownIn(farm, season, today, outlook).map((grown) => asSaid(farm, season, grown, today)),
    ...grownIn(farm, next, today, outlook).filter(({ first }) => first <= soon).map((grown) => asSaid(farm, next, grown, today)),
    ...[...farm.ahead.tasks.values()].filter(({ kind }) => kind === 'own').map((task) => own(task, season, today)),
  ].sort(byDay)
}

function byDay(a: TaskNow, b: TaskNow): number {
  return compare(a.last || '9', b.last || '9') || compare(a.first, b.first) || compare(a.id, b.id)
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

function grownIn(farm: Farm, season: Season, today: Day, outlook: Outlook | undefined): Grown[] {
  const grounds = groundsOf(farm, season, today)
  const cuts = new FirstCuts(farm, season, outlook)
  const little = outlook?.season === season ? littleLeftFrom(outlook, cuts.weeks) : undefined
  const divided = dividedOn(farm, season)
  const planned = plannedDivisions(farm, season)
  const beds = grounds.flatMap((ground): Grown[] => {
    const cut = cuts.of(ground.bed.id, ground.stocks)
    return [
      standWalk(farm, ground, season), ...aroundCut(farm, ground, season, cut), cutBack(ground, season, cut, little),
      ...division(farm, ground, season, today, { deed: divided.get(ground.bed.id) ?? '', planned }),
    ]
  })
  return [...beds, ...heavyWeek(grounds, cuts, season, outlook), ...plugOrders(farm, season, today)]
}

function within(day: Day, { from, to }: Days): { readonly first: Day; readonly last: Day } {
  return { first: addDays(day, from), last: addDays(day, to) }
}

function ofBed({ bed }: BedGround): Pick<Grown, 'of' | 'bed' | 'stock'> {
  return { of: bed.id, bed: bed.id, stock: '' }
}

function standWalk(farm: Farm, ground: BedGround, season: Season): Grown {
  const spring = springOf(farm.calendar, season)
  return { kind: 'stand_walk', ...ofBed(ground), ...within(spring, aroundSpring.stand_walk), why: { by: 'spring', from: spring }, deed: standDay(ground, season) }
}

/** What is to be done before, at and after the first cut of a bed. */
function aroundCut(farm: Farm, ground: BedGround, season: Season, cut: ExpectedCut): Grown[] {
  const why: Why = { by: 'first_cut', cut }
  const over = ground.bed.cutBack.get(season) ?? ''
  return [
    { kind: 'corral', ...ofBed(ground), ...within(cut.early, aroundFirstCut.corral), why, deed: eventDay(ground, ['corralled', 'netted']) },
    { kind: 'first_look', ...ofBed(ground), first: addDays(cut.early, aroundFirstCut.first_look.from), last: cut.likely, why, deed: cut.from === 'came' ? cut.likely : '' },
    { kind: 'label_mothers', ...ofBed(ground), ...within(cut.likely, aroundFirstCut.label_mothers), why, deed: motherDay(farm, ground, season) },
    // Once the bed is cut back there is nothing left to deadhead.
    { kind: 'deadhead', ...ofBed(ground), ...within(cut.likely, aroundFirstCut.deadhead), why, deed: earliest([eventDay(ground, ['deadheaded']), over]) },
  ]
}

function cutBack(ground: BedGround, season: Season, cut: ExpectedCut, little: Day | undefined): Grown {
  const deed: Day | '' = ground.bed.cutBack.get(season) ?? ''
  const rest = { kind: 'cut_back' as const, ...ofBed(ground), deed }
  // What the farm's weeks say counts for beds that have begun or will have by then.
  if (little !== undefined && cut.likely < little) return { ...rest, first: little, last: addDays(little, cutBackWithin), why: { by: 'little', from: little } }
  return { ...rest, ...within(cut.likely, aroundFirstCut.cut_back), why: { by: 'first_cut', cut } }
}

interface Divisions {
  readonly deed: Day | ''
  readonly planned: ReadonlyMap<BedID, number> | undefined
}

/** In spring, and where that is over, in early fall; of a bed without plants to divide, none. */
function division(farm: Farm, ground: BedGround, season: Season, today: Day, { deed, planned }: Divisions): Grown[] {
  const old = planned ? 0 : oldEnough(farm, ground, season)
  const plants = planned?.get(ground.bed.id) ?? old
  if (plants === 0 && deed === '') return []
  const spring = springOf(farm.calendar, season)
  const early = within(spring, aroundSpring.divide)
  const days = today <= addDays(early.last, lapsesAfter.divide) ? early : within(spring, aroundSpring.divideInFall)
  // What is planned is done when all of it is, not with the first plant.
  return [{ kind: 'divide', ...ofBed(ground), ...days, why: { by: planned ? 'planned' : 'old', plants }, deed: planned && plants > 0 ? '' : deed }]
}

/** The heaviest week of all beds together, as the forecast has it; else the third from the first cut. */
function heavyWeek(grounds: readonly BedGround[], cuts: FirstCuts, season: Season, outlook: Outlook | undefined): Grown[] {
  if (grounds.length === 0) return []
  const rest = { kind: 'heavy_week' as const, of: wholeFarm, bed: '' as const, stock: '' as const, deed: '' as const }
  const week = outlook?.season === season ? heaviestWeek(outlook, cuts.weeks) : undefined
  if (week) return [{ ...rest, first: addDays(week.first, -7), last: addDays(week.first, 6), why: { by: 'heaviest', week } }]
  const [cut] = grounds.map(({ bed, stocks }) => cuts.of(bed.id, stocks)).sort((a, b) => compare(a.likely, b.likely))
  const { first, last } = within(cut!.likely, aroundFirstCut.heavy_week)
  return [{ ...rest, first: addDays(first, -7), last, why: { by: 'first_cut', cut: cut! } }]
}

/** For stocks that came as plugs or were bought and were planted lately: the same again, as early before the same day. */
function plugOrders(farm: Farm, season: Season, today: Day): Grown[] {
  const latest = new Map<StockID, Day>()
  for (const { stock, planted } of farm.plantings.values()) {
    if (planted <= today && planted > (latest.get(stock) ?? '')) latest.set(stock, planted)
  }
  return [...latest].flatMap(([stock, planted]): Grown[] => {
    const of = farm.stocks.get(stock)
    const then = seasonOf(farm.calendar, planted)
    if (of?.origin !== 'plug' && of?.origin !== 'bought' || season - then > 1) return []
    const day = addDays(springOf(farm.calendar, season), daysBetween(springOf(farm.calendar, then), planted))
    return [{
      kind: 'order_plugs', of: stock, bed: '', stock, ...within(day, beforePlanting), why: { by: 'planting', day }, deed: then === season ? planted : '',
    }]
  })
}

/** What follows from what grows, as it stands by what was said of it. */
function asSaid(farm: Farm, season: Season, { of, deed, ...grown }: Grown, today: Day): TaskNow {
  const id = taskIDOf({ season, kind: grown.kind, of })
  const said = farm.ahead.tasks.get(id)
  const putOff = said?.due ?? ''
  const first = putOff || grown.first
  const last = putOff > grown.last ? (putOff as Day) : grown.last
  const done = deed || (said?.done ?? '')
  const lapses = addDays(last, lapsesAfter[grown.kind])
  const state = done ? 'done' : said?.dropped ? 'dropped' : stateOn(today, first, last, lapses)
  return { ...grown, id, season, first, last, putOff, done, shown: deed !== '', person: deed ? '' : said?.person ?? '', what: '', state }
}

function own({ id, bed, due, what, done, person, dropped }: Task, season: Season, today: Day): TaskNow {
  const state = done ? 'done' : dropped ? 'dropped' : stateOn(today, due, due || today, '9' as Day)
  return { id, kind: 'own', season, bed, stock: '', first: due, last: due, why: { by: 'own' }, state, putOff: '', done, shown: false, person, what }
}

function stateOn(today: Day, first: Day | '', last: Day, lapses: Day): TaskState {
  if (today < first) return 'coming'
  if (today <= last) return 'due'
  return today <= lapses ? 'late' : 'lapsed'
}

/** Those that are to be done now. */
export function dueNow(tasks: readonly TaskNow[]): TaskNow[] {
  return tasks.filter(({ state }) => state === 'due' || state === 'late')
}
