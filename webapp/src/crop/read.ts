// Reading nouns from merged entities. Mirrors internal/farm/read.go.

import { count } from '../log/count'
import { cells, changedMembers, int, members, text } from '../log/read'
import type { Entity } from '../log/state'
import { parseCell } from './cells'
import { parseDay } from './day'
import { readMarks } from './marks'
import { readPlaces } from './places'
import { parseLab } from './readings'
import type {
  Bed, BedEvent, BedID, Calendar, Colour, ColourID, Count, Day, EventID, EventKind, Farm, Flush, LengthUnit, Millimetres, Origin, Person, PersonID,
  PhotoHash, Plant, PlantID, Planting, PlantingID, PlantPhoto, Purpose, Season, Stage, Stock, StockID, Visit, VisitID, Window,
} from './nouns'
import { bySeason } from './by_season'
import { northernYear, parseCalendar } from './season'

/** The farm's own settings. */
export function readFarm(e: Entity): Pick<Farm, 'name' | 'unit' | 'calendar' | 'madeUp'> {
  const unit: LengthUnit = text(e, 'unit') === 'in' ? 'in' : 'cm'
  // Not set yet: the calendar year stands.
  const calendar: Calendar = parseCalendar(text(e, 'season_start'), int(e, 'southern') === 1) ?? northernYear
  return { name: text(e, 'name'), unit, calendar, madeUp: int(e, 'made_up') === 1 }
}

export function readPerson(e: Entity): Person {
  return { id: e.key.id as PersonID, name: text(e, 'name') }
}

export function readColour(e: Entity): Colour {
  return {
    id: e.key.id as ColourID,
    name: text(e, 'name'),
    swatch: text(e, 'swatch'),
    lab: parseLab(text(e, 'lab')),
    limit: int(e, 'limit') / 100,
    labFrom: text(e, 'lab_from'),
  }
}

export function readBed(e: Entity): Bed {
  const cutBack = [...bySeason(e, 'cut_back.')].filter(([, day]) => day !== '')
  return {
    id: e.key.id as BedID,
    name: text(e, 'name'),
    length: int(e, 'length') as Millimetres,
    width: int(e, 'width') as Millimetres,
    lines: int(e, 'lines'),
    cutBack: new Map(cutBack as [Season, Day][]),
  }
}

export function readStock(e: Entity): Stock {
  return {
    id: e.key.id as StockID,
    name: text(e, 'name'),
    species: text(e, 'species'),
    origin: text(e, 'origin') as Origin | '',
    protected: int(e, 'protected') === 1,
    from: text(e, 'from') as StockID | '',
  }
}

export function readPlanting(e: Entity): Planting {
  return {
    id: e.key.id as PlantingID,
    stock: text(e, 'stock') as StockID,
    bed: text(e, 'bed') as BedID,
    planted: text(e, 'planted') as Day,
    firstSeason: int(e, 'first_season') as Season,
  }
}

export function readPlant(e: Entity): Plant {
  const counted = new Map<Season, Window>()
  for (const [season, written] of bySeason(e, 'counted.')) {
    const window = parseWindow(written)
    if (window) counted.set(season, window)
  }
  return {
    id: e.key.id as PlantID,
    code: text(e, 'code'),
    planting: text(e, 'planting') as PlantingID,
    ...readPlaces(e),
    parents: members(e, 'parents') as PlantID[],
    beside: text(e, 'beside') as PlantID | '',
    colour: text(e, 'colour') as ColourID | '',
    removed: text(e, 'removed') as Day | '',
    counted,
    reference: int(e, 'reference') === 1,
    ...readMarks(e),
    ...readPhotos(e),
  }
}

/** Most plants have none. */
const noPhotos: readonly PlantPhoto[] = []

function readPhotos(e: Entity): Pick<Plant, 'photos' | 'photosAway'> {
  const all = changedMembers(e, 'photos')
  if (all.length === 0) return { photos: noPhotos, photosAway: noPhotos }
  const photosOf = (wanted: boolean) => all.filter(one => one.on === wanted).map(({ name, at }) => ({ hash: name as PhotoHash, at }))
  return { photos: photosOf(true), photosAway: photosOf(false) }
}

export function readVisit(e: Entity): Visit {
  return {
    id: e.key.id as VisitID,
    plant: text(e, 'plant') as PlantID | '',
    bed: text(e, 'bed') as BedID | '',
    date: text(e, 'date') as Day,
    purpose: text(e, 'purpose') as Purpose,
    person: text(e, 'person') as PersonID | '',
    flush: text(e, 'flush') as Flush | '',
    toOrder: int(e, 'to_order') === 1,
    planting: text(e, 'planting') as PlantingID | '',
    age: int(e, 'age'),
    stage: text(e, 'stage') as Stage | '',
    counts: cells(e).flatMap(name => countOf(e, name)),
    beside: members(e, 'beside') as VisitID[],
  }
}

export function readEvent(e: Entity): BedEvent {
  return {
    id: e.key.id as EventID,
    bed: text(e, 'bed') as BedID,
    kind: (text(e, 'kind') || 'other') as EventKind,
    date: text(e, 'date') as Day,
    person: text(e, 'person') as PersonID | '',
    what: text(e, 'what'),
    until: int(e, 'until'),
  }
}

/** A cell at nothing says nothing; one below zero is under "needs a look" until settled. */
function countOf(e: Entity, name: string): Count[] {
  const cell = parseCell(name)
  const stems = count(e, name).total
  if (!cell || stems <= 0) return []
  return [{ colour: cell.colour, grade: cell.grade, length: cell.length, stems }]
}

/** Reads "from/to". */
export function parseWindow(written: string): Window | undefined {
  const [first, last, ...more] = written.split('/')
  const from = parseDay(first ?? '')
  const to = parseDay(last ?? '')
  return from && to && more.length === 0 && from <= to ? { from, to } : undefined
}

