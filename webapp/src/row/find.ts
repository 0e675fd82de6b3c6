// Finding a plant by what somebody types: its tag code, or its place in the bed.

import type { BedID, Day, Farm, Plant } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { stands } from '../crop/standing'
import { inWalkOrder } from '../crop/walk_order'

/**
 * Standing plants that what was typed may mean, the likeliest first: the code itself, then the place
 * in this bed ("2 14", "2-14" or "2.14" is line 2, number 14), then codes that begin so, then codes
 * that hold it; of two alike the one in this bed first. Case, spaces and dashes do not matter.
 */
export function findPlants(farm: Farm, bed: BedID, day: Day, typed: string): Plant[] {
  const code = bare(typed)
  const place = placeTyped(typed)
  if (code === '') return []
  const ranks = new Map<Plant, number>()
  for (const plant of farm.plants.values()) {
    const of = bedOf(farm, plant)
    if (of === undefined || !stands(plant.removed, day)) continue
    const here = of === bed
    const rank = here && place && plant.line === place.line && plant.number === place.number ? 1 : rankOf(bare(plant.code), code)
    if (rank !== undefined) ranks.set(plant, rank * 2 + (here ? 0 : 1))
  }
  return inWalkOrder([...ranks.keys()]).sort((a, b) => (ranks.get(a) ?? 0) - (ranks.get(b) ?? 0))
}

function rankOf(code: string, typed: string): number | undefined {
  if (code === typed) return 0
  if (code.startsWith(typed)) return 2
  return code.includes(typed) ? 3 : undefined
}

/** Letters and digits alone, in capitals. */
function bare(text: string): string {
  return text.normalize('NFKC').toUpperCase().replace(/[^\p{L}\p{N}]/gu, '')
}

function placeTyped(typed: string): { line: number; number: number } | undefined {
  const [, line, number] = /^\s*(\d{1,4})\s*[\s.,/–-]\s*(\d{1,4})\s*$/.exec(typed) ?? []
  return line === undefined || number === undefined ? undefined : { line: Number(line), number: Number(number) }
}
