// How much of a colour class each bed may give, as far as anybody knows: by the plants of it that stand there, and by
// what was cut of it there last.

import { addDays } from './day'
import { stemsOfDay } from './day_stems'
import type { BedID, ColourID, Day, Farm } from './nouns'
import { standingIn } from './standing'

/** Days for which a last cut says something of the next one: common practice, no source. */
export const lately = 14

export interface Giving {
  readonly bed: BedID
  /** '' are plants whose colour nobody has seen. */
  readonly colour: ColourID | ''
  readonly plants: number
  /** Stems of the last day on which any of it was cut there; undefined where that was too long ago, or never. */
  readonly gave: number | undefined
  /** Its share among all, in stems where any last cut is known and else in plants. */
  readonly weight: number
}

/** The days on which the answer rests beside the ground, the latest first. */
export function daysLately(day: Day): Day[] {
  return Array.from({ length: lately }, (_, i) => addDays(day, -1 - i))
}

/** What may be cut in beds, in their order. */
export function givingOf(farm: Farm, day: Day, beds: readonly BedID[]): Giving[] {
  const last = lastCuts(farm, day)
  const found = beds.flatMap((bed) => {
    const plants = plantsByColour(farm, bed, day)
    if (plants.size === 0) return [] // where nothing stands any more, what it gave says nothing
    const colours = new Set([...plants.keys(), ...(last.get(bed)?.keys() ?? [])])
    return [...colours].map((colour) => ({ bed, colour, plants: plants.get(colour) ?? 0, gave: last.get(bed)?.get(colour) }))
  })
  return weighed(found)
}

function plantsByColour(farm: Farm, bed: BedID, day: Day): ReadonlyMap<ColourID | '', number> {
  const found = new Map<ColourID | '', number>()
  for (const { colour } of standingIn(farm, bed, day)) found.set(colour, (found.get(colour) ?? 0) + 1)
  return found
}

function lastCuts(farm: Farm, day: Day): ReadonlyMap<BedID | '', ReadonlyMap<ColourID | '', number>> {
  const found = new Map<BedID | '', Map<ColourID | '', number>>()
  for (const before of daysLately(day)) {
    for (const [bed, colours] of cutOn(farm, before)) {
      const known = found.get(bed) ?? new Map<ColourID | '', number>()
      for (const [colour, stems] of colours) if (!known.has(colour)) known.set(colour, stems)
      found.set(bed, known)
    }
  }
  return found
}

function cutOn(farm: Farm, day: Day): ReadonlyMap<BedID | '', ReadonlyMap<ColourID | '', number>> {
  const found = new Map<BedID | '', Map<ColourID | '', number>>()
  for (const { bed, colour, grade, stems } of stemsOfDay(farm, day)) {
    if (grade === 'out') continue
    const colours = found.get(bed) ?? new Map<ColourID | '', number>()
    colours.set(colour, (colours.get(colour) ?? 0) + stems)
    found.set(bed, colours)
  }
  return found
}

/** What nothing is known of lately is held to give as much a plant as others of its colour did, or as all did. */
function weighed(all: readonly Omit<Giving, 'weight'>[]): Giving[] {
  const perPlant = rateOf(all)
  const ofColour = new Map([...new Set(all.map(({ colour }) => colour))].map((colour) =>
    [colour, rateOf(all.filter((one) => one.colour === colour)) ?? perPlant ?? 1] as const))
  return all.map((one) => ({ ...one, weight: one.gave ?? one.plants * ofColour.get(one.colour)! })).filter(({ weight }) => weight > 0)
}

function rateOf(all: readonly Omit<Giving, 'weight'>[]): number | undefined {
  const known = all.filter(({ gave, plants }) => gave !== undefined && plants > 0)
  if (known.length === 0) return undefined
  return known.reduce((sum, { gave }) => sum + gave!, 0) / known.reduce((sum, { plants }) => sum + plants, 0)
}
