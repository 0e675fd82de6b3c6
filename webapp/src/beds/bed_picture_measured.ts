// The colours of a bed's picture as they were measured: of each plant what is told last of it, by a photo or by eye,
// and whether the shed calls it drifted.

import type { Lab } from '../colour/lab'
import { hexOf, show } from '../colour/shown'
import type { ColourID, Farm, Plant, PlantID, Season } from '../crop/nouns'
import type { PlantSeason } from './colour_report'
import { classSwatch } from './colour_words'
import type { ColoursAnswer } from './colours'
import { type BySeason, coloursBySeason, coloursOfPlant } from './plant_colours'

/** What is marked of a plant that changed. */
export type Drift = 'drift' | 'watch'

/** What is told of a plant's colour where a picture is in measured colours. */
export interface Told {
  /** By a photo, by somebody's eye, or not at all. */
  readonly by: 'photo' | 'eye' | 'nobody'
  /** As it was measured; of what an eye told, or nobody, undefined. */
  readonly lab: Lab | undefined
  /** In which it was measured, where that is not the season shown. */
  readonly before: Season | undefined
  /** Whether it lies beyond what this screen can show, so that it is painted less deep. */
  readonly beyond: boolean
  readonly drift: Drift | undefined
}

/** What photos told of each plant of a bed. */
export interface Measured {
  readonly colours: ReadonlyMap<PlantID, BySeason>
  readonly judged: ReadonlyMap<PlantID, readonly PlantSeason[]>
}

/** As the shed answered last, and by the readings on this device in seasons that it has not answered for. */
export function measuredOf(farm: Farm, plants: readonly { readonly plant: Plant }[], answer: Pick<ColoursAnswer, 'species'> | undefined): Measured {
  const reports = (answer?.species ?? []).map(({ report }) => report)
  const told = new Map(reports.flatMap((report) => [...coloursBySeason(report)]))
  const colours = new Map(plants.flatMap(({ plant }) => {
    const of = coloursOfPlant(farm, told, plant.id)
    return of.size > 0 ? [[plant.id, of] as const] : []
  }))
  const judged = new Map<PlantID, PlantSeason[]>()
  for (const one of reports.flatMap(({ plant_seasons, references }) => [...plant_seasons, ...references])) {
    const known = judged.get(one.plant)
    if (known) known.push(one)
    else judged.set(one.plant, [one])
  }
  return { colours, judged }
}

/**
 * How a plant is painted in a season: as photo or eye told last, the photo where both told in one season.
 *
 * @param byEye - its class by then
 */
export function paintedAs({ colours, judged }: Measured, farm: Pick<Farm, 'colours'>, plant: Plant, season: Season, byEye: ColourID | ''): { readonly swatch: string; readonly told: Told } {
  const drift = driftIn(judged.get(plant.id) ?? [], season)
  const measured = latest(colours.get(plant.id)?.keys(), season)
  const seen = latest(plant.colours.keys(), season)
  const lab = measured === undefined || (seen ?? 0) > measured ? undefined : colours.get(plant.id)?.get(measured)?.lab
  if (lab) return { swatch: hexOf(lab), told: { by: 'photo', lab, before: measured === season ? undefined : measured, beyond: show(lab).mapped, drift } }
  const swatch = byEye === '' ? '' : classSwatch(farm.colours.get(byEye))
  return { swatch, told: { by: swatch === '' ? 'nobody' : 'eye', lab: undefined, before: undefined, beyond: false, drift } }
}

/** What was said last of its drift. */
function driftIn(judged: readonly PlantSeason[], season: Season): Drift | undefined {
  const last = latest(judged.map((one) => one.season), season)
  const state = judged.find((one) => one.season === last)?.state
  return state === 'drift' || state === 'watch' ? state : undefined
}

function latest(seasons: Iterable<Season> | undefined, upTo: Season): Season | undefined {
  return [...(seasons ?? [])].filter((one) => one <= upTo).reduce<Season | undefined>((last, one) => (last === undefined || one > last ? one : last), undefined)
}

/** Of plants as they are painted, how many were measured, told by eye, known to nobody, and painted less deep. */
export interface Tally {
  readonly photo: number
  readonly eye: number
  readonly nobody: number
  readonly beyond: number
}

export function tallyOf(all: readonly { readonly told: Told | undefined; readonly gone: boolean }[]): Tally {
  const standing = all.flatMap(({ told, gone }) => (told && !gone ? [told] : []))
  const by = (how: Told['by']) => standing.filter((one) => one.by === how).length
  return { photo: by('photo'), eye: by('eye'), nobody: by('nobody'), beyond: standing.filter(({ beyond }) => beyond).length }
}
