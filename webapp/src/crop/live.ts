// The farm kept up to date entity by entity, so that a tap re-reads one visit and not a season.

import type { ReadonlySignal } from '@preact/signals'
import { signal } from '@preact/signals'
import { withdrawn } from '../log/read'
import type { Entity, EntityKey } from '../log/state'
import type { Bed, BedID, Day, Farm, FarmID, Plant, PlantID, Planting, PlantingID, ReadingID, Stock, StockID, Visit, VisitID } from './nouns'
import { LiveAhead } from './live_ahead'
import { LiveLots } from './live_lots'
import { LiveMoney } from './live_money'
import { LiveSales } from './live_sales'
import { PlantLooks } from './looks'
import {
  readBed, readColour, readEvent, readFarm, readPerson, readPlant, readPlanting, readStock, readVisit,
} from './read'
import { readCard, readReading } from './readings'
import { Repeats } from './repeats'
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
  event: { map: 'events', read: readEvent },
  card: { map: 'cards', read: readCard },
} as const

export class LiveFarm {
  private readonly maps = emptyMaps()
  private readonly withdrawn = {
    beds: new Map<BedID, Bed>(), stocks: new Map<StockID, Stock>(), plantings: new Map<PlantingID, Planting>(), plants: new Map<PlantID, Plant>(),
  }
  private readonly repeats = new Repeats()
  private readonly looks = new PlantLooks()
  private readonly lots = new LiveLots()
  private readonly sold = new LiveSales(this.lots)
  private readonly toCome = new LiveAhead()
  private readonly books = new LiveMoney()
  private readonly version
  private settings = unset
  private groundVersion = 0
  private layoutVersion = 0
  private visitsVersion = 0
  private readingsVersion = 0

  constructor(private readonly id: FarmID) {
    this.version = signal(this.snapshot())
  }

  /** A new object at each change, around the same maps. */
  get farm(): ReadonlySignal<Farm> {
    return this.version
  }

  /** Reads the touched entities again and then tells it once. An entity that is gone is undefined. */
  update(touched: Iterable<readonly [EntityKey, Entity | undefined]>): void {
    for (const [key, entity] of touched) {
      const gone = entity !== undefined && withdrawn(entity)
      this.take(key, gone ? undefined : entity)
      if (key.type !== 'farm' || key.id === this.id) {
        this.sold.take(key, entity)
        this.toCome.take(key, entity)
        this.books.take(key, entity)
      }
      this.keepWithdrawn(key, gone ? entity : undefined)
    }
    this.repeats.settle((plant) => this.visitsTo(plant))
    this.sold.settle()
    this.looks.settle({ ...this.maps, withdrawn: this.withdrawn })
    this.version.value = this.snapshot()
  }

  /** Forgets everything and reads all entities. */
  replace(entities: Iterable<Entity>): void {
    for (const map of [...Object.values(this.maps), ...Object.values(this.withdrawn)]) map.clear()
    this.repeats.clear()
    this.sold.clear()
    this.toCome.clear()
    this.books.clear()
    this.lots.clear()
    this.settings = unset
    this.groundChanged()
    this.looks.touchAll()
    this.visitsVersion++
    this.readingsVersion++
    this.update([...entities].map(e => [e.key, e] as const))
  }

  private take(key: EntityKey, entity: Entity | undefined): void {
    if (key.type === 'visit') return this.takeVisit(key.id as VisitID, entity)
    if (key.type === 'reading') return this.takeReading(key.id as ReadingID, entity)
    if (key.type === 'farm') {
      if (key.id === this.id) this.settings = entity ? readFarm(entity) : unset
      return
    }
    if (!Object.hasOwn(kinds, key.type)) return // of a later version
    const kind = kinds[key.type as keyof typeof kinds]
    const map = this.maps[kind.map] as Map<string, unknown>
    const before = map.get(key.id)
    const now = entity && kind.read(entity)
    if (now) map.set(key.id, now)
    else map.delete(key.id)
    if (movesNothing(key.type, before, now)) this.groundVersion++
    else this.moved(key)
  }

  private moved({ type, id }: EntityKey): void {
    this.groundChanged()
    if (type === 'plant') this.looks.touch(id as PlantID)
    else this.looks.touchAll()
  }

  private groundChanged(): void {
    this.groundVersion++
    this.layoutVersion++
  }

  private keepWithdrawn({ type, id }: EntityKey, entity: Entity | undefined): void {
    if (type !== 'bed' && type !== 'stock' && type !== 'planting' && type !== 'plant') return
    const { map, read } = kinds[type]
    const all = this.withdrawn[map] as Map<string, unknown>
    if (entity) all.set(id, read(entity))
    else all.delete(id)
  }

  private takeVisit(id: VisitID, entity: Entity | undefined): void {
    const { visits, visitsOf, visitsOn } = this.maps
    const before = visits.get(id)
    const now = entity && readVisit(entity)
    for (const plant of [before?.plant, now?.plant]) if (plant && this.withdrawn.plants.has(plant)) this.moved({ type: 'plant', id: plant })
    this.visitsVersion++
    this.lots.takeVisit(before, now)
    for (const date of [before?.date, now?.date]) if (date !== undefined) this.maps.dayVersions.set(date, this.visitsVersion)
    for (const plant of [before?.plant, now?.plant]) if (plant) this.repeats.touch(plant)
    if (before && before.plant !== '' && before.plant !== now?.plant) visitsOf.get(before.plant)?.delete(id)
    if (before && before.date !== now?.date) visitsOn.get(before.date)?.delete(id)
    if (!now) {
      visits.delete(id)
      return
    }
    visits.set(id, now)
    file(visitsOn, now.date, id)
    if (now.plant !== '') file(visitsOf, now.plant, id)
  }

  private takeReading(id: ReadingID, entity: Entity | undefined): void {
    const { readings, readingsOf } = this.maps
    const before = readings.get(id)
    const now = entity && readReading(entity)
    this.readingsVersion++
    if (before && before.plant !== now?.plant) readingsOf.get(before.plant)?.delete(id)
    if (!now) {
      readings.delete(id)
      return
    }
    readings.set(id, now)
    file(readingsOf, now.plant, id)
  }

  private *visitsTo(plant: PlantID): IterableIterator<Visit> {
    for (const id of this.maps.visitsOf.get(plant) ?? []) {
      const visit = this.maps.visits.get(id)
      if (visit) yield visit
    }
  }

  private snapshot(): Farm {
    const { groundVersion, layoutVersion, visitsVersion, readingsVersion } = this
    return {
      id: this.id, ...this.settings, ...this.maps, withdrawn: this.withdrawn, sales: this.sold.sales, ahead: this.toCome.ahead, money: this.books.money, lots: this.lots.lots, repeats: this.repeats.found, plantLooks: this.looks.found,
      groundVersion, layoutVersion, visitsVersion, readingsVersion,
    }
  }
}

/** Whether what came leaves every plant what it was and where it was. */
function movesNothing(type: string, before: unknown, now: unknown): boolean {
  if (type === 'event' || type === 'person' || type === 'colour' || type === 'card') return true
  return type === 'plant' && before !== undefined && now !== undefined && beyondSeen(before as Plant) === beyondSeen(now as Plant)
}

/** A plant without what was seen at it, as a text to compare. */
function beyondSeen({ colour, colours, stands, flags, flagsCleared, notes, photos, photosAway, counted, reference, ...is }: Plant): string {
  return JSON.stringify([is, [...counted]])
}

function file<K, V>(index: Map<K, Set<V>>, under: K, id: V): void {
  const filed = index.get(under)
  if (filed) filed.add(id)
  else index.set(under, new Set([id]))
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
    events: map<'events'>(),
    cards: map<'cards'>(),
    readings: map<'readings'>(),
    readingsOf: new Map<PlantID, Set<ReadingID>>(),
    visits: map<'visits'>(),
    visitsOf: new Map<PlantID, Set<VisitID>>(),
    visitsOn: new Map<Day, Set<VisitID>>(),
    dayVersions: new Map<Day, number>(),
  }
}
