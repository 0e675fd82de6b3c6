// When a bed gives its first stems of a season: as it did, as the shed forecasts, as in seasons before, or as is usual.

import { bedOfVisit, sources, stemsIn } from './bed_day'
import { addDays, daysBetween } from './day'
import { weekdayOf } from './due'
import type { BedID, Day, Farm, Purpose, Season, StockID } from './nouns'
import type { Outlook } from './outlook'
import { seasonOf, springOf } from './season'
import { seasonSum, type SeasonSum, usualLead } from './season_warmth'
import { aroundSpring, seasonsApart } from './task_practice'

export interface ExpectedCut {
  readonly from: 'came' | 'forecast' | 'seasons' | 'practice'
  readonly early: Day
  readonly likely: Day
  readonly late: Day
  /** Of which stock a forecast speaks. */
  readonly stock: StockID | ''
  /** By how many days it was moved up for the season's warmth; 0 where it was not. */
  readonly lead: number
}

/** A flush that is less likely to come than not says nothing of its days: late in a year in which nothing was recorded, say. */
const likely = 0.5

/** First cuts of all seasons so far, and this season's stems by week. */
export interface CutHistory {
  readonly first: ReadonlyMap<Season, ReadonlyMap<BedID, Day>>
  /** By the week's Monday. */
  readonly weeks: ReadonlyMap<Day, number>
}

/** When the beds of a season give their first stems. */
export class FirstCuts {
  private readonly history: CutHistory
  private readonly spring: Day
  private readonly usual: ExpectedCut
  private moved: number | undefined

  constructor(private readonly farm: Farm, private readonly season: Season, private readonly outlook: Outlook | undefined) {
    this.history = cutHistory(farm, season)
    this.spring = springOf(farm.calendar, season)
    this.usual = this.around((aroundSpring.firstCut.from + aroundSpring.firstCut.to) / 2, (aroundSpring.firstCut.to - aroundSpring.firstCut.from) / 2, 'practice')
  }

  of(bed: BedID, stocks: ReadonlySet<StockID>): ExpectedCut {
    const came = this.history.first.get(this.season)?.get(bed)
    if (came !== undefined) return { from: 'came', early: came, likely: came, late: came, stock: '', lead: 0 }
    return this.forecast(stocks) ?? this.asBefore(bed) ?? this.usual
  }

  /** Of the season's beds, the first of all; undefined while there was none. */
  get begun(): Day | undefined {
    return [...this.history.first.get(this.season)?.values() ?? []].sort()[0]
  }

  get weeks(): CutHistory['weeks'] {
    return this.history.weeks
  }

  private forecast(stocks: ReadonlySet<StockID>): ExpectedCut | undefined {
    if (this.outlook?.season !== this.season) return undefined
    const [cut] = this.outlook.first_cuts.filter(({ stock, flush, chance }) => flush === 'spring' && chance >= likely && stocks.has(stock)).sort((a, b) => (a.q50 < b.q50 ? -1 : 1))
    return cut && { from: 'forecast', early: cut.q05, likely: cut.q50, late: cut.q95, stock: cut.stock, lead: 0 }
  }

  /** The mean of the bed's own seasons; of all beds', where it has none. */
  private asBefore(bed: BedID): ExpectedCut | undefined {
    const before = [...this.history.first].filter(([season]) => season < this.season)
    const after = (season: Season, day: Day) => daysBetween(springOf(this.farm.calendar, season), day)
    const own = before.flatMap(([season, beds]) => (beds.has(bed) ? [after(season, beds.get(bed)!)] : []))
    const all = own.length > 0 ? own : before.flatMap(([season, beds]) => [...beds.values()].map((day) => after(season, day)))
    if (all.length === 0) return undefined
    const mean = all.reduce((sum, days) => sum + days, 0) / all.length
    return { ...this.around(Math.round(mean) - this.lead, seasonsApart, 'seasons'), lead: this.lead }
  }

  private around(days: number, apart: number, from: ExpectedCut['from']): ExpectedCut {
    const day = (n: number) => addDays(this.spring, n)
    return { from, early: day(days - apart), likely: day(days), late: day(days + apart), stock: '', lead: 0 }
  }

  private get lead(): number {
    return this.moved ??= warmthLead(this.farm, this.season) ?? 0
  }
}

/** By how many days a season's warmth is ahead of what is usual; undefined where that cannot be told. */
export function warmthLead({ ahead: { weather, warmth }, calendar }: Pick<Farm, 'ahead' | 'calendar'>, season: Season): number | undefined {
  if (warmth.upper <= warmth.lower) return undefined
  const now = seasonSum(weather, calendar, season, warmth)
  return now && usualLead(now, formerSums({ weather, warmth }, calendar, season))
}

/** The sums of the seasons before one of which weather is told, the latest first. */
export function formerSums({ weather, warmth }: Pick<Farm['ahead'], 'weather' | 'warmth'>, calendar: Farm['calendar'], season: Season): SeasonSum[] {
  const seasons = new Set([...weather.keys()].map((day) => seasonOf(calendar, day)))
  return [...seasons].filter((one) => one < season).sort((a, b) => b - a).flatMap((one) => seasonSum(weather, calendar, one, warmth) ?? [])
}

interface Known extends CutHistory {
  readonly visits: Farm['visits']
  readonly season: Season
  readonly versions: string
}

let known: Known | undefined

/** Looked up until a visit or what stands has changed. */
function cutHistory(farm: Farm, season: Season): CutHistory {
  const versions = `${farm.visitsVersion} ${farm.layoutVersion}`
  if (known?.visits !== farm.visits || known.season !== season || known.versions !== versions) {
    known = { ...readHistory(farm, season), visits: farm.visits, season, versions }
  }
  return known
}

function readHistory(farm: Farm, season: Season): CutHistory {
  const seasons = new Map<Day, Season>()
  const first = new Map<Season, Map<BedID, Day>>()
  const byDay = new Map<string, Map<Purpose, number>>()
  for (const visit of farm.visits.values()) {
    const stems = sources.includes(visit.purpose) ? stemsIn(visit) : 0
    const bed = stems > 0 ? bedOfVisit(farm, visit) : undefined
    if (bed === undefined) continue
    const of = seasons.get(visit.date) ?? seasonOf(farm.calendar, visit.date)
    seasons.set(visit.date, of)
    const beds = first.get(of) ?? new Map<BedID, Day>()
    if (!(beds.get(bed)! <= visit.date)) first.set(of, beds.set(bed, visit.date))
    if (of !== season) continue
    const key = `${visit.date}${bed}`
    const sums = byDay.get(key) ?? new Map<Purpose, number>()
    byDay.set(key, sums.set(visit.purpose, (sums.get(visit.purpose) ?? 0) + stems))
  }
  return { first, weeks: weeksOf(byDay) }
}

/** Of what was counted in the row, in the bed and on the bench of a day, the most: near enough to tell weeks apart. */
function weeksOf(byDay: ReadonlyMap<string, ReadonlyMap<Purpose, number>>): Map<Day, number> {
  const weeks = new Map<Day, number>()
  for (const [key, sums] of byDay) {
    const monday = mondayOf(key.slice(0, 10) as Day)
    weeks.set(monday, (weeks.get(monday) ?? 0) + Math.max(...sums.values()))
  }
  return weeks
}

export function mondayOf(day: Day): Day {
  return addDays(day, 1 - weekdayOf(day))
}
