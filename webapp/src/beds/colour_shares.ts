// How the plants that stand are spread over classes and seasons in the ground, and which left their class.

import { classIn, type PlantClass } from '../crop/colour_class'
import type { ColourID, Farm, Plant, PlantID, Season } from '../crop/nouns'
import { ageIn } from '../crop/season'
import { type BySeason, coloursOfPlant } from './plant_colours'

/** A plant with its class as of a season. */
export interface Classed {
  readonly plant: Plant
  /** Its season in the ground; 0 where its planting is not known here. */
  readonly age: number
  readonly told: PlantClass | undefined
  /** It was measured in that season or before. */
  readonly measured: boolean
}

export function classed(farm: Farm, plants: readonly Plant[], season: Season, colours: ReadonlyMap<PlantID, BySeason>): Classed[] {
  return plants.flatMap((plant) => {
    const planting = farm.plantings.get(plant.planting)
    const age = planting ? ageIn(planting, season) : 0
    if (planting && age < 1) return [] // not yet in its first season
    const own = coloursOfPlant(farm, colours, plant.id)
    return [{ plant, age, told: classIn(farm, plant, season, own), measured: [...own.keys()].some((one) => one <= season) }]
  })
}

/**
 * between: the uncertainty leaves two. none: measured, and of no class. classless: measured, while no class has a measured
 * colour. unseen: neither measured nor seen in bloom.
 */
export type ShareKind = 'class' | 'between' | 'none' | 'classless' | 'unseen'

export interface ShareRow {
  readonly kind: ShareKind
  readonly colour: ColourID | undefined
  readonly n: number
  /** Of them, those that were measured. */
  readonly measured: number
  readonly byAge: ReadonlyMap<number, number>
}

export interface Shares {
  readonly rows: readonly ShareRow[]
  readonly ages: readonly number[]
  readonly n: number
}

/** Classes by how many plants they have, and then what is of none. */
export function sharesOf(all: readonly Classed[]): Shares {
  const rows = new Map<string, { kind: ShareKind; colour: ColourID | undefined; n: number; measured: number; byAge: Map<number, number> }>()
  for (const { age, told, measured } of all) {
    const kind = kindOf(told, measured)
    const colour = kind === 'class' ? told?.colour : undefined
    const key = `${kind} ${colour ?? ''}`
    const row = rows.get(key) ?? { kind, colour, n: 0, measured: 0, byAge: new Map<number, number>() }
    row.n++
    if (told?.by === 'measured' || kind === 'classless') row.measured++
    row.byAge.set(age, (row.byAge.get(age) ?? 0) + 1)
    rows.set(key, row)
  }
  const last: readonly ShareKind[] = ['class', 'between', 'none', 'classless', 'unseen']
  const sorted = [...rows.values()].sort((a, b) => last.indexOf(a.kind) - last.indexOf(b.kind) || b.n - a.n)
  return { rows: sorted, ages: [...new Set(all.map(({ age }) => age))].sort((a, b) => a - b), n: all.length }
}

function kindOf(told: PlantClass | undefined, measured: boolean): ShareKind {
  if (!told) return measured ? 'classless' : 'unseen'
  if (!told.sure) return 'between'
  return told.colour === undefined ? 'none' : 'class'
}

export interface Left {
  readonly plant: Plant
  readonly from: PlantClass
  readonly to: PlantClass
}

export interface Leaving {
  /** Measured in both seasons. */
  readonly measured: readonly Left[]
  /** Seen by eye in one of them at least: another eye may say another name. */
  readonly byEye: readonly Left[]
  /** Of how many it cannot be told, since they lie between classes now or then. */
  readonly between: number
}

/** Plants whose class in a season is surely another than the last before it. In walk order, as they came. */
export function leftIn(farm: Farm, plants: readonly Plant[], season: Season, colours: ReadonlyMap<PlantID, BySeason>): Leaving {
  const [measured, byEye]: [Left[], Left[]] = [[], []]
  let between = 0
  for (const plant of plants) {
    const own = coloursOfPlant(farm, colours, plant.id)
    const to = classIn(farm, plant, season, own)
    const from = classIn(farm, plant, (season - 1) as Season, own)
    if (!to || !from || to.season !== season || from.season === 0 || from.colour === to.colour) continue
    if (!to.sure || !from.sure) between++
    else if (to.by === 'measured' && from.by === 'measured') measured.push({ plant, from, to })
    else byEye.push({ plant, from, to })
  }
  return { measured, byEye, between }
}
