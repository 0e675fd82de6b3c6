// Nouns for tests: whole ones, of which a test tells only what it is about.

import type {
  Bed, BedEvent, BedID, Card, CardID, Colour, ColourID, Day, EventID, Farm, Plant, PlantID, Planting, PlantingID, Reading, ReadingID, Season, Stock,
  StockID, Visit, VisitID,
} from '../nouns'
import { LiveLots } from '../live_lots'
import { noAhead } from '../live_ahead'
import { noMoney } from '../live_money'
import { noSales } from '../live_sales'
import { northernYear } from '../season'

export function plantWith(told: Partial<Plant> = {}): Plant {
  return {
    id: 'p' as PlantID, code: 'P', planting: 'g' as PlantingID, bed: '', line: 0, number: 0, places: [], stood: [], parents: [],
    beside: '', colour: '', colours: new Map(), stands: new Map(), removed: '', counted: new Map(), reference: false, flags: [], flagsCleared: [],
    notes: [], photos: [], photosAway: [], ...told,
  }
}

export function visitWith(told: Partial<Visit> = {}): Visit {
  return {
    id: 'v' as VisitID, plant: '', bed: '', date: '' as Day, purpose: 'cut', person: '', flush: '', toOrder: false, planting: '',
    age: 0, stage: '', counts: [], beside: [], ...told,
  }
}

export function bedWith(told: Partial<Bed> = {}): Bed {
  return { id: 'b' as BedID, name: 'B', length: 0 as Bed['length'], width: 0 as Bed['width'], lines: 0, cutBack: new Map(), ...told }
}

export function plantingWith(told: Partial<Planting> = {}): Planting {
  return {
    id: 'g' as PlantingID, stock: 's' as StockID, bed: 'b' as BedID, planted: '2025-09-18' as Day, firstSeason: 2026 as Season, ...told,
  }
}

export function stockWith(told: Partial<Stock> = {}): Stock {
  return { id: 's' as StockID, name: 'S', species: '', origin: '', protected: false, from: '', ...told }
}

export function eventWith(told: Partial<BedEvent> = {}): BedEvent {
  return { id: 'e' as EventID, bed: 'b' as BedID, kind: 'other', date: '' as Day, person: '', what: '', until: 0, ...told }
}

export function colourWith(told: Partial<Colour> = {}): Colour {
  return { id: 'c' as ColourID, name: 'C', swatch: '', lab: undefined, limit: 0, labFrom: '', ...told }
}

export function readingWith(told: Partial<Reading> = {}): Reading {
  return {
    id: 'r' as ReadingID, plant: 'p' as PlantID, date: '2026-05-20' as Day, person: '', lab: { L: 60, a: 20, b: 10 }, se: { L: 1, a: 1, b: 1 },
    spread: 0, spreadSE: 0, stage: 'full', light: 'shade', card: '', camera: '', photo: '', head: undefined, quality: 90, problems: [], at: 0, ...told,
  }
}

export function cardWith(told: Partial<Card> = {}): Card {
  return { id: 'K7M2QX' as CardID, printed: '', patches: [], se: 0, how: '', measured: '', retired: '', scale: 0, ...told }
}

interface Nouns {
  readonly beds?: readonly Bed[]
  readonly stocks?: readonly Stock[]
  readonly plantings?: readonly Planting[]
  readonly plants?: readonly Plant[]
  readonly visits?: readonly Visit[]
  readonly events?: readonly BedEvent[]
  readonly colours?: readonly Colour[]
  readonly readings?: readonly Reading[]
  readonly cards?: readonly Card[]
  /** Those that were withdrawn. */
  readonly gone?: { readonly beds?: readonly Bed[]; readonly stocks?: readonly Stock[]; readonly plantings?: readonly Planting[]; readonly plants?: readonly Plant[] }
}

/** A farm of these nouns, with the visits found by plant. */
export function farmWith({ beds = [], stocks = [], plantings = [], plants = [], visits = [], events = [], colours = [], readings = [], cards = [], gone = {} }: Nouns, told: Partial<Farm> = {}): Farm {
  const visitsOf = new Map<PlantID, Set<VisitID>>()
  const visitsOn = new Map<Day, Set<VisitID>>()
  const lots = new LiveLots()
  for (const visit of visits) lots.takeVisit(undefined, visit)
  for (const { plant, id, date } of visits) {
    visitsOn.set(date, (visitsOn.get(date) ?? new Set()).add(id))
    if (plant !== '') visitsOf.set(plant, (visitsOf.get(plant) ?? new Set()).add(id))
  }
  return {
    id: '', name: '', unit: 'cm', calendar: northernYear, madeUp: false, people: new Map(), colours: keyed(colours),
    beds: keyed(beds), stocks: keyed(stocks), plantings: keyed(plantings), plants: keyed(plants), events: keyed(events),
    cards: keyed(cards), readings: keyed(readings), readingsOf: readingsByPlant(readings),
    withdrawn: { beds: keyed(gone.beds ?? []), stocks: keyed(gone.stocks ?? []), plantings: keyed(gone.plantings ?? []), plants: keyed(gone.plants ?? []) },
    sales: noSales(), ahead: noAhead(), money: noMoney(), lots: lots.lots, visits: keyed(visits), visitsOf, visitsOn, repeats: new Map(), plantLooks: [], groundVersion: 0, layoutVersion: 0, visitsVersion: 0, dayVersions: new Map(), readingsVersion: 0, ...told,
  }
}

function readingsByPlant(readings: readonly Reading[]): ReadonlyMap<PlantID, ReadonlySet<ReadingID>> {
  const of = new Map<PlantID, Set<ReadingID>>()
  for (const { plant, id } of readings) of.set(plant, (of.get(plant) ?? new Set()).add(id))
  return of
}

function keyed<K, V extends { readonly id: K }>(all: readonly V[]): ReadonlyMap<K, V> {
  return new Map(all.map((one) => [one.id, one]))
}
