// What a person should settle about plants and places. Each device finds it from the farm as it
// stands; settling it is a change like any other.

import { compareText } from '../log/order'
import type { BedID, Farm, Plant, PlantID, PlantLook } from './nouns'
import { bedOf, placeKey, placeOf, samePlace } from './places'
import { normalCode } from './tag_code'

/** What looks are found in. */
export type LookedAt = Pick<Farm, 'plants' | 'plantings' | 'withdrawn' | 'visitsOf'>

/** Everything about plants and places that wants a look, by a look at every plant. */
export function plantLooks(farm: LookedAt): readonly PlantLook[] {
  const looks = new PlantLooks()
  looks.touchAll()
  looks.settle(farm)
  return looks.found
}

/** What wants a look, kept up to date by looking at the plants that changed. */
export class PlantLooks {
  /** By kind, and within it by the first plant's id. The same array until another is found. */
  found: readonly PlantLook[] = []
  private index = new Index()
  private readonly touched = new Set<PlantID>()
  private all = false

  /** A plant came, went, or is another; or a visit to one that is withdrawn. */
  touch(plant: PlantID): void {
    this.touched.add(plant)
  }

  /** A planting, stock or bed changed, of which a plant's look may depend. */
  touchAll(): void {
    this.all = true
  }

  settle(farm: LookedAt): void {
    if (!this.all && this.touched.size === 0) return
    if (this.all) this.index = new Index()
    const ids = this.all ? [...farm.plants.keys(), ...farm.withdrawn.plants.keys()] : this.touched
    for (const id of ids) this.index.look(farm, id)
    this.touched.clear()
    this.all = false
    const found = this.index.found(farm)
    if (!sameLooks(found, this.found)) this.found = found
  }
}

function sameLooks(a: readonly PlantLook[], b: readonly PlantLook[]): boolean {
  const written = (looks: readonly PlantLook[]) => JSON.stringify(looks)
  return a.length === b.length && written(a) === written(b)
}

/** Which plants are alike in what no two should be, or in what nothing should be. */
class Index {
  private readonly alike = { shared_place: new Alike(2), same_code: new Alike(2), no_planting: new Alike(1), no_bed: new Alike(1) }
  private readonly alone = { two_places: new Set<PlantID>(), counted_withdrawn: new Set<PlantID>() }
  /** Plants that name parents; who is whose ancestor is looked up anew only where one of these changed. */
  private readonly parents = new Map<PlantID, string>()
  private ownAncestors: readonly PlantID[] | undefined

  look(farm: LookedAt, id: PlantID): void {
    const plant = farm.plants.get(id)
    const standing = plant?.removed === '' ? plant : undefined
    this.alike.shared_place.put(id, standing ? keyOfPlace(farm, standing) : '')
    this.alike.same_code.put(id, standing ? normalCode(standing.code) : '')
    this.alike.no_planting.put(id, standing && isOfNoPlanting(farm, standing) ? standing.planting : '')
    this.alike.no_bed.put(id, standing ? withdrawnBedOf(farm, standing) : '')
    mark(this.alone.two_places, id, standing !== undefined && claimsSeveral(standing))
    mark(this.alone.counted_withdrawn, id, farm.withdrawn.plants.has(id) && (farm.visitsOf.get(id)?.size ?? 0) > 0)
    const parents = plant?.parents.join() ?? ''
    if (parents === (this.parents.get(id) ?? '')) return
    this.ownAncestors = undefined
    if (parents === '') this.parents.delete(id)
    else this.parents.set(id, parents)
  }

  found(farm: LookedAt): PlantLook[] {
    this.ownAncestors ??= [...this.parents.keys()].filter((id) => descends(farm, id)).sort()
    const { shared_place, same_code, no_planting, no_bed } = this.alike
    return [
      ...looksOf('shared_place', shared_place.groups()),
      ...looksOf('two_places', each(this.alone.two_places)),
      ...looksOf('same_code', same_code.groups()),
      ...looksOf('own_ancestor', each(this.ownAncestors)),
      ...looksOf('counted_withdrawn', each(this.alone.counted_withdrawn)),
      ...looksOf('no_planting', no_planting.groups()),
      ...looksOf('no_bed', no_bed.groups()),
    ]
  }
}

/** Plants by a key that so many may not share. */
class Alike {
  private readonly keys = new Map<PlantID, string>()
  private readonly byKey = new Map<string, PlantID[]>()
  private readonly asking = new Set<string>()

  constructor(private readonly fewest: number) {}

  /** '' is in no group. */
  put(id: PlantID, key: string): void {
    const before = this.keys.get(id) ?? ''
    if (before === key) return
    if (before !== '') this.leave(before, id)
    if (key === '') this.keys.delete(id)
    else this.join(key, id)
  }

  private leave(key: string, id: PlantID): void {
    const left = (this.byKey.get(key) ?? []).filter((one) => one !== id)
    if (left.length > 0) this.byKey.set(key, left)
    else this.byKey.delete(key)
    mark(this.asking, key, left.length >= this.fewest)
  }

  private join(key: string, id: PlantID): void {
    this.keys.set(id, key)
    const group = this.byKey.get(key) ?? []
    group.push(id) // a group may be all plants of a farm, whose copying one by one would take minutes
    this.byKey.set(key, group)
    mark(this.asking, key, group.length >= this.fewest)
  }

  groups(): PlantID[][] {
    return [...this.asking].map((key) => [...this.byKey.get(key) ?? []].sort())
  }
}

function mark<T>(set: Set<T>, one: T, on: boolean): void {
  if (on) set.add(one)
  else set.delete(one)
}

function each(plants: Iterable<PlantID>): PlantID[][] {
  return [...plants].map((id) => [id])
}

function looksOf(kind: PlantLook['kind'], groups: readonly (readonly PlantID[])[]): PlantLook[] {
  return groups.map((plants) => ({ kind, plants })).sort((a, b) => compareText(a.plants[0] ?? '', b.plants[0] ?? ''))
}

/** Two moves to one place agree. */
function claimsSeveral({ places }: Plant): boolean {
  const [first, ...others] = places
  return first !== undefined && others.some((place) => !samePlace(first, place))
}

function isOfNoPlanting(farm: LookedAt, { planting }: Plant): boolean {
  const stock = farm.plantings.get(planting)?.stock
  return farm.withdrawn.plantings.has(planting) || (stock !== undefined && farm.withdrawn.stocks.has(stock))
}

/** Somebody took an empty bed away while another set plants in it. */
function withdrawnBedOf(farm: LookedAt, plant: Plant): BedID | '' {
  const bed = bedOf(farm, plant)
  return bed !== undefined && farm.withdrawn.beds.has(bed) ? bed : ''
}

function keyOfPlace(farm: LookedAt, plant: Plant): string {
  const place = placeOf(farm, plant)
  return place ? placeKey(place) : ''
}

/** Whether a plant is among its own ancestors. */
function descends(farm: LookedAt, id: PlantID): boolean {
  const seen = new Set<PlantID>()
  const waiting = [...farm.plants.get(id)?.parents ?? []]
  for (let of = waiting.pop(); of !== undefined; of = waiting.pop()) {
    if (of === id) return true
    if (seen.has(of)) continue
    seen.add(of)
    waiting.push(...farm.plants.get(of)?.parents ?? [])
  }
  return false
}
