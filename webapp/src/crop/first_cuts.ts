// When a bed gives its first stems of a season: as it did, as the shed forecasts, as in seasons before, or as is usual.

import { bedOfVisit, sources, stemsIn } from './bed_day'
import { addDays, daysBetween } from './day'
import { mondayOf } from './due'
import type { BedID, Day, Farm, Purpose, Season, StockID } from './nouns'
import type { Outlook } from './outlook'
import { seasonOf, span, springOf } from './season'
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

/** First cuts of all seasons so far, and their stems by week. */
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
    this.history = cutHistory(farm)
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

  /** The season's stems by week. */
  get weeks(): CutHistory['weeks'] {
    const { from, to } = span(this.farm.calendar, this.season)
    return new Map([...this.history.weeks].filter(([monday]) => from <= monday && monday <= to))
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
  readonly versions: string
}

let known: Known | undefined

/** Looked up until a visit or what stands has changed. */
function cutHistory(farm: Farm): CutHistory {
  const versions = `${farm.visitsVersion} ${farm.layoutVersion}`
  if (known?.visits !== farm.visits || known.versions !== versions) known = { ...readHistory(farm), visits: farm.visits, versions }
  return known
}

function readHistory(farm: Farm): CutHistory {
  const first = new Map<Season, Map<BedID, Day>>()
  const weeks = new Map<Day, number>()
  for (const [date, beds] of stemsByDay(farm)) {
    const season = seasonOf(farm.calendar, date)
    const monday = mondayOf(date)
    const before = first.get(season) ?? new Map<BedID, Day>()
    first.set(season, before)
    for (const [bed, sums] of beds) {
      if (!(before.get(bed)! <= date)) before.set(bed, date)
      // Of what was counted in the row, in the bed and on the bench of a day, the most: near enough to tell weeks apart.
      weeks.set(monday, (weeks.get(monday) ?? 0) + Math.max(...sums.values()))
    }
  }
  return { first, weeks }
}

/** Stems by day, bed and where they were counted. */
function stemsByDay(farm: Farm): Map<Day, Map<BedID, Map<Purpose, number>>> {
  const found = new Map<Day, Map<BedID, Map<Purpose, number>>>()
  for (const visit of farm.visits.values()) {
    const stems = sources.includes(visit.purpose) ? stemsIn(visit) : 0
    const bed = stems > 0 ? bedOfVisit(farm, visit) : undefined
    if (bed === undefined) continue
    const beds = found.get(visit.date) ?? new Map<BedID, Map<Purpose, number>>()
    const sums = beds.get(bed) ?? new Map<Purpose, number>()
    found.set(visit.date, beds.set(bed, sums.set(visit.purpose, (sums.get(visit.purpose) ?? 0) + stems)))
  }
  return found
}
