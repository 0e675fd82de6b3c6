// The farm kept up to date entity by entity, so that a tap re-reads one visit and not a season.

import type { ReadonlySignal } from '@preact/signals'
import { signal } from '@preact/signals'
import { withdrawn } from '../log/read'
import type { Entity, EntityKey } from '../log/state'
import type { Farm, FarmID, PlantID, VisitID } from './nouns'
import {
  readBed, readColour, readFarm, readPerson, readPlant, readPlanting, readStock, readVisit,
} from './read'
import { northernYear } from './season'

type Settings = Pick<Farm, 'name' | 'unit' | 'calendar' | 'madeUp'>

const unset: Settings = { name: '', unit: 'cm', calendar: northernYear, madeUp: false }

/** How each type of entity is read, and which of the farm's maps holds it. */
const kinds = {
  person: { map: 'people', read: readPerson },
  colour: { map: 'colours', read: readColour },
  bed: { map: 'beds', read: readBed },
  stock: { map: 'stocks', read: readStock },
  planting: { map: 'plantings', read: readPlanting },
  plant: { map: 'plants', read: readPlant },
} as const

export class LiveFarm {
  private readonly maps = emptyMaps()
  private readonly version
  private settings = unset

  constructor(private readonly id: FarmID) {
    this.version = signal(this.snapshot())
  }

  /** A new object at each change, around the same maps. */
  get farm(): ReadonlySignal<Farm> {
    return this.version
  }

  /** Reads the touched entities again and then tells it once. An entity that is gone is undefined. */
  update(touched: Iterable<readonly [EntityKey, Entity | undefined]>): void {
    for (const [key, entity] of touched) this.take(key, entity && !withdrawn(entity) ? entity : undefined)
    this.version.value = this.snapshot()
  }

  /** Forgets everything and reads all entities. */
  replace(entities: Iterable<Entity>): void {
    for (const map of Object.values(this.maps)) map.clear()
    this.settings = unset
    this.update([...entities].map(e => [e.key, e] as const))
  }

  private take(key: EntityKey, entity: Entity | undefined): void {
    if (key.type === 'visit') return this.takeVisit(key.id as VisitID, entity)
    if (key.type === 'farm') {
      if (key.id === this.id) this.settings = entity ? readFarm(entity) : unset
      return
    }
    if (!Object.hasOwn(kinds, key.type)) return // of a later version
    const kind = kinds[key.type as keyof typeof kinds]
    const map = this.maps[kind.map] as Map<string, unknown>
    if (entity) map.set(key.id, kind.read(entity))
    else map.delete(key.id)
  }

  private takeVisit(id: VisitID, entity: Entity | undefined): void {
    const { visits, visitsOf } = this.maps
    const before = visits.get(id)
    const now = entity && readVisit(entity)
    if (before && before.plant !== '' && before.plant !== now?.plant) visitsOf.get(before.plant)?.delete(id)
    if (!now) {
      visits.delete(id)
      return
    }
    visits.set(id, now)
    if (now.plant === '') return
    const ofPlant = visitsOf.get(now.plant)
    if (ofPlant) ofPlant.add(id)
    else visitsOf.set(now.plant, new Set([id]))
  }

  private snapshot(): Farm {
    return { id: this.id, ...this.settings, ...this.maps }
  }
}

type Mutable<T> = T extends ReadonlyMap<infer K, infer V> ? Map<K, V> : never

function emptyMaps() {
  const map = <K extends keyof Farm>() => new Map() as Mutable<Farm[K]>
  return {
    people: map<'people'>(),
    colours: map<'colours'>(),
    beds: map<'beds'>(),
    stocks: map<'stocks'>(),
    plantings: map<'plantings'>(),
    plants: map<'plants'>(),
    visits: map<'visits'>(),
    visitsOf: new Map<PlantID, Set<VisitID>>(),
  }
}
