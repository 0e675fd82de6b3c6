// A bed's places as they are drawn to be chosen from: rows along the bed, in each a place of every line,
// free or taken; and which free ones come next from a place on.

import type { Bed, BedID, Farm, Place, Plant, PlantID } from '../crop/nouns'
import { bedOf, placeKey, placesHeld } from '../crop/places'
import { reachOf } from '../crop/reach'
import { footOf, standsBeside } from '../crop/seedlings'

/** What is chosen: a bed, and in it places, or somewhere without a place. */
export interface Picked {
  /** '' until one is chosen. */
  readonly bed: BedID | ''
  readonly places: readonly Place[]
  readonly somewhere: boolean
}

export interface Spot {
  readonly place: Place
  /** A gap is a free place with a taken one further along its line. */
  readonly is: 'free' | 'gap' | 'taken'
  /** Who stands there. */
  readonly plant?: Plant
  /** Self-sown seedlings at its foot. */
  readonly seedlings: number
}

/** A row of places, or a stretch in which every place is taken. */
export type Row = { readonly number: number; readonly spots: readonly Spot[] } | { readonly from: number; readonly to: number }

interface Stands {
  /** By the place's key, as are the seedlings at its foot. */
  readonly byPlace: ReadonlyMap<string, Plant>
  readonly seedlings: ReadonlyMap<string, number>
  /** The last number taken in each line, as far as the bed reaches. */
  readonly last: ReadonlyMap<number, number>
  /** Plants whose number lies too far out to be drawn. */
  readonly far: readonly Plant[]
}

/** Free rows that are drawn behind the last plant. */
const rowsBeyond = 4
/** So many full rows and more are drawn as one stretch, but for one at either end. */
const longStretch = 5

export class BedPlaces {
  private readonly stands: Stands
  readonly lines: number

  /** Who leaves, or is passed over, takes no place. */
  constructor(farm: Farm, private readonly bed: Bed, leaving: readonly PlantID[] = []) {
    this.stands = standsIn(farm, bed, leaving)
    this.lines = Math.max(1, bed.lines, ...this.stands.last.keys())
  }

  /** Those that stand too far out to be drawn. */
  get far(): readonly Plant[] {
    return this.stands.far
  }

  /** Down to a few free rows behind the last plant and the last place chosen. */
  rows(chosen: readonly Place[], more = 0): Row[] {
    const last = Math.max(0, ...this.stands.last.values(), ...chosen.map(({ number }) => number))
    const rows = Array.from({ length: last + rowsBeyond + more }, (_, i) => ({
      number: i + 1, spots: Array.from({ length: this.lines }, (__, line) => this.spot(line + 1, i + 1)),
    }))
    return stretches(rows)
  }

  private spot(line: number, number: number): Spot {
    const place = { bed: this.bed.id, line, number }
    const plant = this.stands.byPlace.get(placeKey(place))
    if (plant) return { place, is: 'taken', plant, seedlings: this.stands.seedlings.get(placeKey(place)) ?? 0 }
    return { place, is: number < (this.stands.last.get(line) ?? 0) ? 'gap' : 'free', seedlings: 0 }
  }

  /** Of places that were chosen, those in which a plant stands: it came since, or stays where it was to leave. */
  clashes(chosen: readonly Place[]): { readonly place: Place; readonly plant: Plant }[] {
    return chosen.flatMap((place) => {
      const plant = this.stands.byPlace.get(placeKey(place))
      return plant ? [{ place, plant }] : []
    })
  }

  isGap({ line, number }: Place): boolean {
    return this.spot(line, number).is === 'gap'
  }

  /**
   * So many free places from one on: along its line, then the gaps of the lines after it, and behind the
   * last plant of its own line only where these do not do.
   */
  nextFree(from: Place, n: number): Place[] {
    const found: Place[] = []
    const take = (line: number, first: number, last: number) => {
      for (let number = first; number <= last && found.length < n; number++) {
        const spot = this.spot(line, number)
        if (spot.is !== 'taken') found.push(spot.place)
      }
    }
    const lastOf = (line: number) => this.stands.last.get(line) ?? 0
    take(from.line, from.number, lastOf(from.line))
    if (from.number < lastOf(from.line)) for (let line = from.line + 1; line <= this.lines; line++) take(line, 1, lastOf(line))
    take(from.line, Math.max(from.number, lastOf(from.line) + 1), Infinity)
    return found
  }
}

function standsIn(farm: Farm, bed: Bed, leaving: readonly PlantID[]): Stands {
  const byPlace = new Map<string, Plant>()
  const seedlings = new Map<string, number>()
  const held: { readonly place: Place; readonly plant: Plant }[] = []
  for (const plant of farm.plants.values()) {
    if (plant.removed !== '' || leaving.includes(plant.id)) continue
    const foot = standsBeside(plant) === '' ? undefined : footOf(farm, plant)
    if (foot?.bed === bed.id) seedlings.set(placeKey(foot), (seedlings.get(placeKey(foot)) ?? 0) + 1)
    for (const place of placesHeld(farm, plant)) {
      if (place.bed !== bed.id) continue
      byPlace.set(placeKey(place), plant)
      held.push({ place, plant })
    }
  }
  const reach = reachOf(held.map(({ place }) => place.number), bed.length)
  const last = new Map<number, number>()
  for (const { place: { line, number } } of held) if (number <= reach) last.set(line, Math.max(last.get(line) ?? 0, number))
  return { byPlace, seedlings, last, far: held.filter(({ place }) => place.number > reach).map(({ plant }) => plant) }
}

type FullRow = Extract<Row, { number: number }>

function stretches(rows: readonly FullRow[]): Row[] {
  const drawn: Row[] = []
  for (let i = 0; i < rows.length;) {
    const end = rows.findIndex((row, at) => at >= i && row.spots.some(({ is }) => is !== 'taken'))
    const full = rows.slice(i, end < 0 ? rows.length : end)
    if (full.length >= longStretch) {
      const [first, behind] = [full[0], full.at(-1)]
      if (first && behind) drawn.push(first, { from: first.number + 1, to: behind.number - 1 }, behind)
    } else drawn.push(...full)
    i += full.length
    const next = rows[i]
    if (next) drawn.push(next)
    i++
  }
  return drawn
}

/** Where to begin: in a bed, no place chosen. */
export function pickedIn(bed: BedID | ''): Picked {
  return { bed, places: [], somewhere: false }
}

/** Chooses a place, or lets go of it. Where all that is wanted is chosen, a single one gives way to the next. */
export function tapped(picked: Picked, place: Place, wanted: number): Picked {
  const same = (one: Place) => placeKey(one) === placeKey(place)
  if (picked.places.some(same)) return { ...picked, places: picked.places.filter((one) => !same(one)) }
  if (wanted === 1) return { ...picked, places: [place] }
  return picked.places.length < wanted ? { ...picked, places: [...picked.places, place] } : picked
}

/** The places of so many plants, once they are all told; line and number are 0 where none is. */
export function placesOf({ bed, places, somewhere }: Picked, wanted: number): readonly Place[] | undefined {
  if (bed === '') return undefined
  if (somewhere) return Array.from({ length: wanted }, () => ({ bed, line: 0, number: 0 }))
  return places.length === wanted ? places : undefined
}

/**
 * The bed to look for places in first: the plant's own; where that is not known or was taken away, the latest it
 * stood in before, or the farm's only one. Else '': a bed that nobody chose would be taken for the right one.
 */
export function bedToBegin(farm: Farm, plant: Plant): BedID | '' {
  const stood = [bedOf(farm, plant), ...plant.stood.map(({ bed }) => bed).reverse()]
  const its = stood.find((bed) => bed !== undefined && farm.beds.has(bed))
  const [first = ''] = farm.beds.keys()
  return its ?? (farm.beds.size === 1 ? first : '')
}
