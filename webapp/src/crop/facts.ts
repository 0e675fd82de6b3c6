// Nouns written as facts. Mirrors internal/farm/facts.go, and adds the small facts that a tap makes.

import type { Fact, Scope, Value } from '../log/change'
import { extraAfter, extraSaw } from '../log/identity'
import { compareText } from '../log/order'
import { fieldWithdrawn } from '../log/read'
import { bedCell, plantCell } from './cells'
import type {
  Bed, BedID, Calendar, Colour, Count, Day, Farm, LengthUnit, Person, PhotoHash, Plant, PlantID, Planting, Purpose, Season, Stock,
  Visit, VisitID, Window,
} from './nouns'

export { bedCell, plantCell } from './cells'

export type EntityType = 'farm' | 'person' | 'colour' | 'bed' | 'stock' | 'planting' | 'plant' | 'visit'

/** Collects the facts of one entity; what was never told stays unset. */
class Facts {
  readonly list: Fact[] = []

  constructor(
    private readonly type: EntityType,
    private readonly id: string,
    private readonly scope: Scope = 'field',
  ) {}

  set(field: string, value: Value): this {
    // A keyboard may compose an accent as two characters; changes carry NFC.
    const kept = typeof value === 'string' ? value.normalize('NFC') : value
    this.list.push({ scope: this.scope, op: 'set', type: this.type, id: this.id, field, value: kept })
    return this
  }

  told(field: string, value: string | number): this {
    return value === '' || value === 0 ? this : this.set(field, value)
  }

  flag(field: string, on: boolean): this {
    return on ? this.set(field, 1) : this
  }

  say(op: Fact['op'], field: string, value: Value, extra?: Fact['extra']): this {
    this.list.push({ scope: this.scope, op, type: this.type, id: this.id, field, value, ...(extra && { extra }) })
    return this
  }
}

/** What a farm is called and how it counts. */
export function farmFacts(f: Pick<Farm, 'id' | 'name' | 'unit' | 'calendar'>): Fact[] {
  return [...new Facts('farm', f.id).set('name', f.name).list, ...unitFacts(f, f.unit), ...calendarFacts(f, f.calendar)]
}

export function unitFacts(farm: Pick<Farm, 'id'>, unit: LengthUnit): Fact[] {
  return new Facts('farm', farm.id).set('unit', unit).list
}

export function calendarFacts(farm: Pick<Farm, 'id'>, calendar: Calendar): Fact[] {
  const southern = calendar.southern ? 1 : 0
  return new Facts('farm', farm.id).set('season_start', calendar.start).set('southern', southern).list
}

export function personFacts(p: Person): Fact[] {
  return new Facts('person', p.id).set('name', p.name).list
}

export function colourFacts(c: Colour): Fact[] {
  return new Facts('colour', c.id).set('name', c.name).told('swatch', c.swatch).list
}

export function bedFacts(b: Bed): Fact[] {
  const facts = new Facts('bed', b.id).set('name', b.name)
  facts.told('length', b.length).told('width', b.width).told('lines', b.lines)
  return [...facts.list, ...[...b.cutBack].sort(bySeason).flatMap(([season, day]) => cutBackFacts(b.id, season, day))]
}

/** The day on which a bed was cut back in a season; '' takes it back. */
export function cutBackFacts(bed: BedID, season: Season, day: Day | ''): Fact[] {
  return new Facts('bed', bed).set(`cut_back.${season}`, day).list
}

export function stockFacts(s: Stock): Fact[] {
  const facts = new Facts('stock', s.id).set('name', s.name)
  return facts.told('species', s.species).told('origin', s.origin).flag('protected', s.protected).list
}

export function plantingFacts(p: Planting): Fact[] {
  const facts = new Facts('planting', p.id).set('stock', p.stock).set('bed', p.bed)
  return facts.set('planted', p.planted).set('first_season', p.firstSeason).list
}

export function plantFacts(p: Plant): Fact[] {
  const facts = new Facts('plant', p.id).set('code', p.code).set('planting', p.planting)
  facts.told('line', p.line).told('number', p.number).told('colour', p.colour).told('removed', p.removed)
  for (const [season, window] of [...p.counted].sort(bySeason)) facts.set(`counted.${season}`, formatWindow(window))
  for (const parent of p.parents) facts.say('add', 'parents', parent)
  return facts.list
}

/** Marks a plant as counted in a season, or takes the mark off. */
export function countedFacts(plant: PlantID, season: Season, window: Window | undefined): Fact[] {
  return new Facts('plant', plant).set(`counted.${season}`, window ? formatWindow(window) : '').list
}

export function plantColourFacts(plant: PlantID, colour: Colour['id'] | ''): Fact[] {
  return new Facts('plant', plant).set('colour', colour).list
}

export function removedFacts(plant: PlantID, day: Day | ''): Fact[] {
  return new Facts('plant', plant).set('removed', day).list
}

/** Puts a photo to a plant, or takes it away. */
export function photoFacts(plant: PlantID, photo: PhotoHash, on: boolean): Fact[] {
  return new Facts('plant', plant).say(on ? 'add' : 'remove', 'photos', photo).list
}

/** What a visit found. Counts of the same cell add up. */
export function visitFacts(v: Visit): Fact[] {
  const facts = new Facts('visit', v.id, visitScope(v.purpose))
  facts.told('plant', v.plant).told('bed', v.bed).told('planting', v.planting)
  facts.set('date', v.date).set('purpose', v.purpose).told('person', v.person).told('flush', v.flush)
  facts.flag('to_order', v.toOrder).told('age', v.age)
  const stems = new Map<string, number>()
  for (const c of v.counts) stems.set(cellOf(v, c), (stems.get(cellOf(v, c)) ?? 0) + c.stems)
  for (const cell of [...stems.keys()].sort(compareText)) facts.say('count', cell, stems.get(cell)!)
  return facts.list
}

function cellOf(v: Visit, c: Count): string {
  return v.plant !== '' ? plantCell(c.grade, c.length) : bedCell(c.colour, c.grade, c.length)
}

/** What one cell of a visit holds by this phone's own count. */
export function countFact(scope: Scope, visit: VisitID, cell: string, stems: number): Fact {
  return { scope, op: 'count', type: 'visit', id: visit, field: cell, value: stems }
}

/** A signed correction of a cell, with the total that its maker saw and the tips that stood there. */
export function correctFact(
  scope: Scope, visit: VisitID, cell: string, by: number, saw: number, tips: readonly string[],
): Fact {
  const extra = { [extraSaw]: saw, ...(tips.length > 0 && { [extraAfter]: tips }) }
  return { scope, op: 'correct', type: 'visit', id: visit, field: cell, value: by, extra }
}

/** Withdraws an entity, or restores it. */
export function withdrawnFact(type: EntityType, id: string, on: boolean, scope: Scope = 'field'): Fact {
  return { scope, op: 'set', type, id, field: fieldWithdrawn, value: on ? 1 : 0 }
}

/** The scope of a visit's changes: the bench is the shed's. */
export function visitScope(purpose: Purpose): Scope {
  return purpose === 'bench' ? 'shed' : 'field'
}

/** Writes a window as an ISO 8601 interval of days. */
export function formatWindow(w: Window): string {
  return `${w.from}/${w.to}`
}

function bySeason(a: readonly [Season, unknown], b: readonly [Season, unknown]): number {
  return a[0] - b[0]
}
