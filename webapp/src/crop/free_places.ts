// How many more plants there is room for between those that stand.

import type { BedID, Farm } from './nouns'
import { placeKey, placesHeld } from './places'
import { reachOf } from './reach'

/**
 * The places of each bed in which no plant stands: as many along each of its lines as the longest of them has. A bed in
 * which nothing stands has none that anybody told of.
 */
export function freePlaces(farm: Farm): ReadonlyMap<BedID, number> {
  const held = new Map<BedID, Map<string, { readonly line: number; readonly number: number }>>()
  for (const plant of farm.plants.values()) {
    if (plant.removed !== '') continue
    for (const place of placesHeld(farm, plant)) held.set(place.bed, (held.get(place.bed) ?? new Map()).set(placeKey(place), place))
  }
  return new Map([...held].flatMap(([id, places]) => {
    const bed = farm.beds.get(id)
    if (!bed) return []
    const reach = reachOf([...places.values()].map(({ number }) => number), bed.length)
    const near = [...places.values()].filter(({ number }) => number <= reach)
    const lines = Math.max(1, bed.lines, ...near.map(({ line }) => line))
    return [[id, lines * Math.max(0, ...near.map(({ number }) => number)) - near.length] as const]
  }))
}
