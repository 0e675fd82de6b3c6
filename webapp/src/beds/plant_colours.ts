// Each plant's measured colours by season: as the shed told them, and by readings that it has not answered for yet.

import { colourFromReadings, fits, type MeasuredColour } from '../crop/measured_colour'
import type { Farm, PlantID, Reading, Season } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { type ColourReport, colourOf } from './colour_report'
import type { SpeciesColour } from './colours'

export type BySeason = ReadonlyMap<Season, MeasuredColour>

/** Every plant's measured colours, those of references too. */
export function coloursBySeason({ colours }: Pick<ColourReport, 'colours'>): ReadonlyMap<PlantID, BySeason> {
  const all = new Map<PlantID, Map<Season, MeasuredColour>>()
  for (const one of colours) {
    const of = all.get(one.plant) ?? new Map<Season, MeasuredColour>()
    of.set(one.season, colourOf(one))
    all.set(one.plant, of)
  }
  return all
}

const none: BySeason = new Map()

/**
 * What is known of one plant's colours by season: as the shed says, and by readings alone in seasons of which it has
 * said nothing yet.
 */
export function coloursOfPlant(farm: Pick<Farm, 'readings' | 'readingsOf' | 'calendar'>, told: ReadonlyMap<PlantID, BySeason>, plant: PlantID): BySeason {
  const shed = told.get(plant) ?? none
  const seasons = [...(farm.readingsOf.get(plant) ?? [])].flatMap((id) => farm.readings.get(id)?.date ?? []).map((day) => seasonOf(farm.calendar, day))
  const own = [...new Set(seasons)].filter((season) => !shed.has(season)).flatMap((season) => {
    const colour = colourFromReadings(farm, plant, season)
    return colour ? [[season, colour] as const] : []
  })
  return own.length === 0 ? shed : new Map([...shed, ...own])
}

/** How many of the plants' readings on this device the answer does not know, and how many of those that it knows are gone. */
export function unknownReadings(farm: Farm, { report: { colours } }: Pick<SpeciesColour, 'report'>, plants: readonly PlantID[]): { readonly newer: number; readonly gone: number } {
  const left = new Map<string, number>()
  for (const plant of plants) {
    for (const id of farm.readingsOf.get(plant) ?? []) {
      const reading = farm.readings.get(id)
      if (!reading || Math.min(reading.se.L, reading.se.a, reading.se.b) <= 0) continue
      const key = `${seasonOf(farm.calendar, reading.date)} ${plant}`
      left.set(key, (left.get(key) ?? 0) + 1)
    }
  }
  const asked = new Set(plants)
  for (const { plant, season, readings } of colours) if (asked.has(plant)) left.set(`${season} ${plant}`, (left.get(`${season} ${plant}`) ?? 0) - readings)
  const [newer, gone] = [1, -1].map((sign) => [...left.values()].reduce((sum, n) => sum + Math.max(0, sign * n), 0))
  return { newer: newer ?? 0, gone: gone ?? 0 }
}

/**
 * Whether the readings of a plant that can be evidence of drift are fewer or more in a season than the answer knows: a
 * stage, a light or a batch of cards was put right since.
 */
export function firmDiffers(farm: Pick<Farm, 'readings' | 'readingsOf' | 'cards' | 'calendar'>, { report: { colours } }: Pick<SpeciesColour, 'report'>, plant: PlantID): boolean {
  const firm = [...(farm.readingsOf.get(plant) ?? [])].flatMap((id) => farm.readings.get(id) ?? []).filter((reading) => isFirm(farm, reading))
  return colours.some((one) => one.plant === plant && one.firm !== firm.filter(({ date }) => seasonOf(farm.calendar, date) === one.season).length)
}

/** As the shed takes it (server/colour.go): with a card whose batch was not retired before that day. */
function isFirm({ cards }: Pick<Farm, 'cards'>, reading: Reading): boolean {
  if (reading.card === '' || !fits(reading)) return false
  const retired = cards.get(reading.card)?.retired ?? ''
  return retired === '' || retired >= reading.date
}
