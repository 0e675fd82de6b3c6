// A lot traced both ways: from which bed, plants and hands its stems came, and to whom they went.

import { bedOfVisit, visitsOn } from './bed_day'
import { type Stood, stoodIn } from './bed_ages'
import { cutKey } from './live_lots'
import { lotCell } from './lots'
import type { Day, Farm, PersonID, Plant, PlantID, Stage, Visit } from './nouns'
import { packedFor } from './over_packed'
import type { BuyerID, Claim, LineID, LotID, Packed, Shrink } from './sale_nouns'

/** What a lot's stems came from. */
export interface Behind {
  /** The bench totals that hold it. */
  readonly bench: readonly Visit[]
  readonly stages: readonly Stage[]
  /** Some of it was counted without a word on how open it was. */
  readonly stageUntold: boolean
  /** Plants counted one by one in its bed on its day. */
  readonly plants: readonly { readonly plant: Plant; readonly visit: Visit }[]
  readonly plantings: readonly Stood[]
  /** Seasons in the ground that its stems may be of, the oldest first. */
  readonly ages: readonly number[]
  /** Who counted in the row that day, and who on the bench. */
  readonly cutBy: readonly PersonID[]
  readonly benchBy: readonly PersonID[]
}

export function behindLot(farm: Farm, lot: LotID): Behind {
  const inBed = visitsOn(farm, lot.cut).filter((visit) => bedOfVisit(farm, visit) === lot.bed && visit.counts.length > 0)
  const bench = inBed.filter((visit) => visit.purpose === 'bench' && holdsLot(visit, lot))
  const row = inBed.filter(({ purpose }) => purpose === 'cut' || purpose === 'bed_cut')
  const plants = row.flatMap((visit) => {
    const plant = visit.plant === '' ? undefined : farm.plants.get(visit.plant)
    return plant && visit.purpose === 'cut' ? [{ plant, visit }] : []
  })
  return {
    bench, ...stagesOf(bench), plants, plantings: stoodIn(farm, lot.bed, lot.cut), ages: agesOf(farm, lot, bench),
    cutBy: people(row), benchBy: people(bench),
  }
}

/** Seasons in the ground that a lot's stems may be of: as its totals say, else of all that stood in its bed. */
export function agesOf(farm: Farm, lot: LotID, bench: readonly Visit[]): number[] {
  const told = bench.map(({ age }) => age)
  const ages = told.length > 0 && told.every((age) => age > 0) ? told : stoodIn(farm, lot.bed, lot.cut).map(({ age }) => age)
  return [...new Set(ages)].sort((a, b) => b - a)
}

/** The bench totals of which a lot is. */
export function benchOf(farm: Farm, lot: LotID): Visit[] {
  return visitsOn(farm, lot.cut).filter((visit) => visit.purpose === 'bench' && visit.bed === lot.bed && holdsLot(visit, lot))
}

export function stagesOf(bench: readonly Visit[]): { readonly stages: readonly Stage[]; readonly stageUntold: boolean } {
  const stages = [...new Set(bench.flatMap(({ stage }) => (stage === '' ? [] : [stage])))]
  return { stages: (['opening', 'full', 'fading'] as const).filter((stage) => stages.includes(stage)), stageUntold: bench.length === 0 || bench.some(({ stage }) => stage === '') }
}

function holdsLot(visit: Visit, lot: LotID): boolean {
  const cell = lotCell(lot)
  return visit.counts.some(({ colour, grade, length }) => lotCell({ bed: lot.bed, cut: lot.cut, colour, grade, length }) === cell)
}

function people(visits: readonly Visit[]): PersonID[] {
  return [...new Set(visits.flatMap(({ person }) => (person === '' ? [] : [person])))]
}

/** What was packed of a lot, the first delivery first. */
export interface Went {
  readonly packed: Packed
  readonly stems: number
}

export function whereWent(farm: Pick<Farm, 'lots' | 'sales'>, cell: string): Went[] {
  return [...farm.lots.packedOf.get(cell) ?? []]
    .flatMap((id) => {
      const packed = farm.sales.packed.get(id)
      return packed ? [{ packed, stems: packed.stems.get(cell) ?? 0 }] : []
    })
    .filter(({ stems }) => stems !== 0)
    .sort((a, b) => compare(a.packed.due, b.packed.due) || compare(a.packed.id, b.packed.id))
}

export function shrinkOfLot(farm: Pick<Farm, 'sales'>, cell: string): Shrink[] {
  return [...farm.sales.shrinkOf.get(cell) ?? []].flatMap((id) => farm.sales.shrink.get(id) ?? []).sort((a, b) => compare(a.date, b.date))
}

/** Claims that name a lot, found by the lines that it went to. */
export function claimsOfLot(farm: Pick<Farm, 'lots' | 'sales'>, cell: string): Claim[] {
  const lines = new Set(whereWent(farm, cell).map(({ packed }) => packed.line))
  return [...lines].flatMap((line) => claimsOfLine(farm, line)).filter(({ lot }) => lot && lotCell(lot) === cell)
}

export function claimsOfLine({ sales }: Pick<Farm, 'sales'>, line: LineID): Claim[] {
  return [...sales.claimsOf.get(line) ?? []].flatMap((id) => sales.claims.get(id) ?? []).sort((a, b) => compare(a.date, b.date))
}

/** The lots that were packed for a line, the most stems first. */
export function lotsOfLine({ sales }: Pick<Farm, 'sales'>, line: LineID): { readonly cell: string; readonly stems: number }[] {
  const found = new Map<string, number>()
  for (const { stems } of packedFor(sales, line)) for (const [cell, n] of stems) found.set(cell, (found.get(cell) ?? 0) + n)
  return [...found].map(([cell, stems]) => ({ cell, stems })).filter(({ stems }) => stems > 0).sort((a, b) => b.stems - a.stems || compare(a.cell, b.cell))
}

/** A day on which stems of a plant were cut, and the lots and buyers among which they went. */
export interface SoldOn {
  readonly day: Day
  readonly lots: readonly string[]
  readonly buyers: readonly BuyerID[]
}

/**
 * The days on which a plant was cut, the latest first. Its stems are among the lots of its bed that day of its colour
 * class, or of those where nobody told the class: a bucket does not know its plants.
 */
export function soldFrom(farm: Farm, plant: PlantID): SoldOn[] {
  const colour = farm.plants.get(plant)?.colour ?? ''
  const days = new Map<Day, Visit>()
  for (const id of farm.visitsOf.get(plant) ?? []) {
    const visit = farm.visits.get(id)
    if (visit?.purpose === 'cut' && visit.counts.length > 0) days.set(visit.date, visit)
  }
  return [...days].sort(([a], [b]) => compare(b, a)).map(([day, visit]) => {
    const lots = [...farm.lots.on.get(cutKey(bedOfVisit(farm, visit) ?? '', day)) ?? []].filter((cell) => {
      const of = farm.lots.of.get(cell)?.id.colour ?? ''
      return of === '' || colour === '' || of === colour
    }).sort()
    return { day, lots, buyers: [...new Set(lots.flatMap((cell) => whereWent(farm, cell).map(({ packed }) => packed.buyer)))] }
  })
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
