// The stems of a day by bed, colour class, grade and length, each counted once while the day still goes on: what a
// bench total or a bed cut does not hold yet of the stems counted before it still counts as it was counted there.
// Once the totals are whole, this is what countedOnce keeps.

import { bedOfVisit, overlap, sources, stemsIn, visitsOn } from './bed_day'
import { keyOfCell, layered, type Stems } from './layers'
import type { BedID, Day, Farm, Season, Visit } from './nouns'
import { seasonOf } from './season'

export interface DayStems extends Stems {
  /** '' where nobody told. */
  readonly bed: BedID | ''
  /** It came over the bench. */
  readonly benched: boolean
}

export function stemsOfDay(farm: Farm, day: Day): DayStems[] {
  const season = seasonOf(farm.calendar, day)
  const byBed = new Map<BedID | '', Visit[]>()
  for (const visit of visitsOn(farm, day)) {
    if (!sources.includes(visit.purpose) || stemsIn(visit) === 0) continue
    const bed = bedOfVisit(farm, visit) ?? ''
    const beside = byBed.get(bed)
    if (beside) beside.push(visit)
    else byBed.set(bed, [visit])
  }
  return [...byBed].flatMap(([bed, visits]) => together(farm, season, visits).flatMap((group) => ofGroup(farm, bed, group)))
}

/** Visits that may hold the same stems, in one group. */
function together(farm: Farm, season: Season, visits: readonly Visit[]): Visit[][] {
  const totals = visits.filter(({ purpose }) => purpose !== 'cut')
  let groups: Visit[][] = []
  for (const total of totals) {
    const joined = groups.filter((group) => group.some((other) => other.purpose !== total.purpose && mayShare(farm, season, total, other)))
    groups = [...groups.filter((group) => !joined.includes(group)), [...joined.flat(), total]]
  }
  const alone: Visit[] = []
  for (const cut of visits) {
    if (cut.purpose !== 'cut') continue
    const joined = groups.filter((group) => group.some((total) => overlap(farm, season, total, cut)))
    if (joined.length === 0) alone.push(cut)
    else groups = [...groups.filter((group) => !joined.includes(group)), [...joined.flat(), cut]]
  }
  return alone.length > 0 ? [...groups, alone] : groups
}

function mayShare(farm: Farm, season: Season, a: Visit, b: Visit): boolean {
  const [fuller, other] = sources.indexOf(a.purpose) < sources.indexOf(b.purpose) ? [a, b] : [b, a]
  return overlap(farm, season, fuller, other)
}

function ofGroup(farm: Farm, bed: BedID | '', visits: readonly Visit[]): DayStems[] {
  const [bench, bedCut, cuts] = sources.map((source) => cellsOf(farm, visits.filter(({ purpose }) => purpose === source)))
  const row = layered(bedCut!, cuts!)
  const { total, rest } = layered(bench!, [...row.total, ...row.rest])
  return [...total.map((one) => ({ ...one, bed, benched: true })), ...rest.map((one) => ({ ...one, bed, benched: false }))]
}

/** A plant's stems are of its own colour class. */
function cellsOf(farm: Farm, visits: readonly Visit[]): Stems[] {
  const found = new Map<string, Stems>()
  for (const visit of visits) {
    const own = visit.plant === '' ? undefined : farm.plants.get(visit.plant)?.colour ?? ''
    for (const { colour, grade, length, stems } of visit.counts) {
      const cell = { colour: own ?? colour, grade, length, stems }
      const key = keyOfCell(cell)
      const before = found.get(key)
      found.set(key, before ? { ...before, stems: before.stems + stems } : cell)
    }
  }
  return [...found.values()].filter(({ stems }) => stems > 0)
}
