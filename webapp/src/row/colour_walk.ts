// Colour classes given by eye while a bed blooms: which come first, and what a plant's was before.

import { colourSeenFacts, colourWasFacts } from '../crop/facts'
import type { Colour, ColourID, Farm, Plant, Season } from '../crop/nouns'
import type { Rating } from './rated_walk'

export const colourRating: Rating<ColourID> = {
  name: 'colour',
  calls: (plant, _, day) => plant.removed === '' || plant.removed > day,
  found: (plant, season) => plant.colours.get(season),
  say: (before, season, day, what) => colourSeenFacts(before.id, season, { day, what }),
  unsay: (before, season) => colourWasFacts(before.id, season, before.colours.get(season), before.colour),
}

/** The class a plant had before a season; season undefined where it is not known of which it is. */
export interface EarlierColour {
  readonly colour: ColourID
  readonly season: Season | undefined
}

export function earlierColour(plant: Plant, season: Season): EarlierColour | undefined {
  const before = [...plant.colours].filter(([of]) => of < season).sort(([a], [b]) => b - a)[0]
  if (before) return { colour: before[1].what, season: before[0] }
  // What a plant has on its own stands for this season once one was seen in it.
  return plant.colour === '' || plant.colours.has(season) ? undefined : { colour: plant.colour, season: undefined }
}

/** All classes, those that most of the plants have first, then by name; so the order of a walk is made once. */
export function byUse(farm: Pick<Farm, 'colours'>, plants: readonly Plant[]): Colour[] {
  const uses = new Map<ColourID | '', number>()
  for (const { colour } of plants) uses.set(colour, (uses.get(colour) ?? 0) + 1)
  return [...farm.colours.values()].sort((a, b) => (uses.get(b.id) ?? 0) - (uses.get(a.id) ?? 0) || a.name.localeCompare(b.name))
}

/** Classes in the order that a walk began with; those that came since follow, as they came. */
export function inOrder(farm: Pick<Farm, 'colours'>, began: readonly ColourID[]): Colour[] {
  const first = began.flatMap((id) => farm.colours.get(id) ?? [])
  return [...first, ...[...farm.colours.values()].filter(({ id }) => !began.includes(id))]
}

/** Plants whose class of the season is another than before. */
export function drifted(plants: readonly Plant[], season: Season): Plant[] {
  return plants.filter((plant) => {
    const now = plant.colours.get(season)
    const before = earlierColour(plant, season)
    return now !== undefined && before !== undefined && now.what !== before.colour
  })
}
