// Reference plants: a handful that every session photographs, so that what light and cameras do is told from drift.

import { difference } from '../colour/difference'
import { labOfRGB, decoded, sRGB } from '../colour/rgb'
import type { Lab } from '../colour/lab'
import { stockOf } from '../crop/lineage'
import type { Day, Farm, Plant } from '../crop/nouns'
import { stands } from '../crop/standing'
import { inWalkOrder } from '../crop/walk_order'
import { newestReading } from './plant_readings'

/** Fewer tell a camera's fault badly from a plant's; more cost a session time for little. */
export const fewest = 3
export const most = 6

/** Those that stand. */
export function referencePlants(farm: Pick<Farm, 'plants'>, day: Day): Plant[] {
  return inWalkOrder([...farm.plants.values()].filter((plant) => plant.reference && stands(plant.removed, day)))
}

/** Those of them that are of the crops of some plants: the shed judges each crop alone, so another crop's tell nothing of it. */
export function referencesBeside(farm: Farm, plants: readonly Plant[], day: Day): Plant[] {
  const speciesOf = (plant: Plant) => stockOf(farm, plant)?.species ?? ''
  const crops = new Set(plants.map(speciesOf))
  return referencePlants(farm, day).filter((plant) => crops.has(speciesOf(plant)))
}

/**
 * Plants of a bed that would make good ones beside those that there are: standing, and each as unlike the others in
 * colour as can be, by what was measured of it or else by its class; none where their crop has enough.
 */
export function suggestedReferences(farm: Farm, among: readonly Plant[], day: Day): Plant[] {
  const chosen = referencesBeside(farm, among, day).map((plant) => colourOf(farm, plant))
  const candidates = among.filter(({ reference }) => !reference).flatMap((plant) => {
    const lab = colourOf(farm, plant)
    return lab ? [{ plant, lab }] : []
  })
  const suggested: Plant[] = []
  while (chosen.length < fewest) {
    const next = unlikest(candidates, chosen.filter((lab) => lab !== undefined))
    if (!next || suggested.includes(next.plant)) break
    suggested.push(next.plant)
    chosen.push(next.lab)
  }
  return suggested
}

interface Candidate {
  readonly plant: Plant
  readonly lab: Lab
}

/** The candidate whose nearest among the chosen is farthest; the first where none is chosen yet. */
function unlikest(candidates: readonly Candidate[], chosen: readonly Lab[]): Candidate | undefined {
  const away = ({ lab }: Candidate) => Math.min(...chosen.map((one) => difference(one, lab).total), Infinity)
  return candidates.reduce<Candidate | undefined>((best, one) => (best === undefined || away(one) > away(best) ? one : best), undefined)
}

function colourOf(farm: Farm, plant: Plant): Lab | undefined {
  const measured = newestReading(farm, plant.id)?.lab
  const colour = plant.colour === '' ? undefined : farm.colours.get(plant.colour)
  return measured ?? colour?.lab ?? labOfSwatch(colour?.swatch ?? '')
}

function labOfSwatch(swatch: string): Lab | undefined {
  const [, r, g, b] = /^#(..)(..)(..)$/.exec(swatch)?.map((part) => decoded(Number.parseInt(part, 16) / 255)) ?? []
  return r === undefined || g === undefined || b === undefined ? undefined : labOfRGB({ r, g, b }, sRGB)
}
