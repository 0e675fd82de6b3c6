// What was counted in the row on a day beside what came over the bench, bed by bed. Counted plants'
// stems are part of a bed cut and of a bench total and never come on top: where nothing else was
// counted in the row, the row is a part, and the two are not to be the same.

import { bedOfVisit, countedOnce, overlap, sources, stemsIn, visitsOn } from '../crop/bed_day'
import type { BedID, ColourID, Count, Day, Farm, Season, ToldGrade, Visit } from '../crop/nouns'
import { gradesHighToLow } from '../crop/nouns'
import { seasonOf } from '../crop/season'

/** Whether both hold the whole, or one of them only a part of what the other holds. */
export type Compared = 'whole' | 'row_part' | 'bench_part'

export interface Reconciled {
  readonly bed: BedID
  readonly row: number
  readonly bench: number
  readonly compared: Compared
  /** By colour class, grade and length; none where one side was not told any. '' is what was not told. */
  readonly colours: readonly Pair<ColourID | ''>[]
  readonly grades: readonly Pair<ToldGrade>[]
  /** By length class as "400|500", the shortest first; '' is what was not told. */
  readonly lengths: readonly Pair<string>[]
}

export interface Pair<Of> {
  readonly of: Of
  readonly row: number
  readonly bench: number
}

/** Every bed with stems counted in the row that day, by the beds' names. */
export function reconciled(farm: Farm, date: Day): Reconciled[] {
  const season = seasonOf(farm.calendar, date)
  const found: Reconciled[] = []
  for (const [bed, visits] of visitsByBed(farm, date)) {
    const one = reconciledBed(farm, season, bed, visits)
    if (one) found.push(one)
  }
  const name = ({ bed }: Reconciled) => farm.beds.get(bed)?.name ?? ''
  return found.sort((a, b) => name(a).localeCompare(name(b), undefined, { numeric: true }))
}

function visitsByBed(farm: Farm, date: Day): ReadonlyMap<BedID, Visit[]> {
  const byBed = new Map<BedID, Visit[]>()
  for (const visit of visitsOn(farm, date)) {
    if (!sources.includes(visit.purpose) || stemsIn(visit) === 0) continue
    const bed = bedOfVisit(farm, visit)
    if (bed === undefined) continue
    const visits = byBed.get(bed)
    if (visits) visits.push(visit)
    else byBed.set(bed, [visit])
  }
  return byBed
}

function reconciledBed(farm: Farm, season: Season, bed: BedID, visits: readonly Visit[]): Reconciled | undefined {
  const bench = visits.filter(({ purpose }) => purpose === 'bench')
  const inRow = countedOnce(farm, season, visits.filter(({ purpose }) => purpose !== 'bench'))
  // A total of one planting says nothing of what was cut from the others.
  const row = bench.length === 0 ? inRow : inRow.filter((visit) => bench.some((total) => overlap(farm, season, total, visit)))
  const compared = comparison(row.filter(({ purpose }) => purpose === 'bed_cut'), bench)
  if (row.length === 0 || compared === undefined) return undefined
  return {
    bed, row: sum(row), bench: sum(bench), compared,
    colours: pairs(row, bench, (count, visit) => colourOf(farm, count, visit)),
    grades: pairs(row, bench, ({ grade }) => grade).sort((a, b) => rank(a.of) - rank(b.of)),
    lengths: pairs(row, bench, ({ length }) => (length.hi === 0 ? '' : `${length.lo}|${length.hi}`)).sort((a, b) => shortest(a.of) - shortest(b.of)),
  }
}

/** How the two compare; undefined where they hold different parts. */
function comparison(bedCuts: readonly Visit[], bench: readonly Visit[]): Compared | undefined {
  if (bedCuts.length === 0) return 'row_part'
  const [rowWhole, benchWhole] = [bedCuts.some(isWhole), bench.length === 0 || bench.some(isWhole)]
  if (rowWhole !== benchWhole) return rowWhole ? 'bench_part' : 'row_part'
  return rowWhole || parts(bedCuts) === parts(bench) ? 'whole' : undefined
}

/** Of the whole bed and not of one planting or age alone. */
function isWhole({ planting, age }: Visit): boolean {
  return planting === '' && age === 0
}

function parts(visits: readonly Visit[]): string {
  return [...new Set(visits.map(({ planting, age }) => `${planting} ${age}`))].sort().join('\n')
}

function sum(visits: readonly Visit[]): number {
  return visits.reduce((stems, visit) => stems + stemsIn(visit), 0)
}

/** A plant's stems are of its own colour class. */
function colourOf(farm: Farm, count: Count, visit: Visit): ColourID | '' {
  return visit.plant === '' ? count.colour : farm.plants.get(visit.plant)?.colour ?? ''
}

function pairs<Of extends string>(row: readonly Visit[], bench: readonly Visit[], of: (count: Count, visit: Visit) => Of): Pair<Of>[] {
  const found = new Map<Of, { of: Of; row: number; bench: number }>()
  const add = (visits: readonly Visit[], side: 'row' | 'bench') => {
    for (const visit of visits) {
      for (const count of visit.counts) {
        const key = of(count, visit)
        const pair = found.get(key) ?? { of: key, row: 0, bench: 0 }
        pair[side] += count.stems
        found.set(key, pair)
      }
    }
  }
  add(row, 'row')
  add(bench, 'bench')
  const all = [...found.values()]
  const told = (side: 'row' | 'bench') => all.some((pair) => pair.of !== '' && pair[side] > 0)
  return told('row') && told('bench') ? all : []
}

/** What was not told comes last. */
function shortest(length: string): number {
  return length === '' ? Infinity : Number(length.split('|')[0])
}

/** What was not told comes last. */
function rank(grade: ToldGrade): number {
  return grade === '' ? gradesHighToLow.length : gradesHighToLow.indexOf(grade)
}
