// Nouns written as facts. Mirrors internal/farm/facts.go, and adds the small facts that a tap makes.

import type { Fact, Scope, Value } from '../log/change'
import { extraAfter, extraSaw } from '../log/identity'
import { compareText } from '../log/order'
import { fieldWithdrawn } from '../log/read'
import { bedCell, plantCell } from './cells'
import { formatSeen } from './marks'
import { formatPlace, formatStay } from './places'
import { formatHead, formatLab, formatLabs } from './readings'
import type {
  Bed, BedEvent, BedID, Calendar, Card, Colour, Count, Day, Farm, Lab, LengthUnit, NewReading, Person, PhotoHash, PlaceSince, Plant, PlantID, Planting,
  Purpose, ReadingID, Season, Seen, Stage, Stand, Stay, Stock, Visit, VisitID, Window,
} from './nouns'

export { bedCell, plantCell } from './cells'

export type EntityType = 'farm' | 'person' | 'colour' | 'bed' | 'stock' | 'planting' | 'plant' | 'visit' | 'event' | 'reading' | 'card' | SaleType | AheadType | MoneyType

/** What is sold; its facts are in sale_facts.ts. */
export type SaleType = 'channel' | 'buyer' | 'bunch' | 'price' | 'order' | 'standing' | 'line' | 'packed' | 'shrink' | 'claim' | 'invoice'

/** What lies ahead; its facts are in ahead_facts.ts. */
export type AheadType = 'ask' | 'weather' | 'task' | 'intent' | 'plan'

/** What is paid and worked; its facts are in money_facts.ts. */
export type MoneyType = 'cost' | 'work' | 'payment' | 'statement' | 'statement_row'

/** Collects the facts of one entity; what was never told stays unset. */
export class Facts {
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

  /** A field that is to change; undefined leaves it as it is. */
  given(field: string, value: Value | undefined): this {
    return value === undefined ? this : this.set(field, value)
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

export function colourFacts(c: Pick<Colour, 'id' | 'name' | 'swatch'>): Fact[] {
  return new Facts('colour', c.id).set('name', c.name).told('swatch', c.swatch).list
}

/** The measured colour of a class, whence it came and its limit; undefined takes it back. */
export function colourLabFacts(colour: Colour['id'], lab: Lab | undefined, from: string, limit: number): Fact[] {
  const facts = new Facts('colour', colour).set('lab', lab ? formatLab(lab) : '').set('lab_from', lab ? from : '')
  return facts.set('limit', Math.round(limit * 100)).list
}

/** That a plant is photographed in every session, or no longer. */
export function referenceFacts(plant: PlantID, on: boolean): Fact[] {
  return new Facts('plant', plant).set('reference', on ? 1 : 0).list
}

/** The colour that a plant's head was measured to have. */
export function readingFacts(r: NewReading): Fact[] {
  const facts = new Facts('reading', r.id).set('plant', r.plant).set('date', r.date).told('person', r.person)
  facts.set('lab', formatLab(r.lab)).set('se', formatLab(r.se))
  facts.told('spread', Math.round(r.spread * 10)).told('spread_se', Math.round(r.spreadSE * 10))
  facts.told('stage', r.stage).told('light', r.light).told('card', r.card).told('camera', r.camera).told('photo', r.photo)
  facts.told('head', r.head ? formatHead(r.head) : '')
  return facts.set('quality', Math.round(r.quality)).told('problems', r.problems.join(' ')).list
}

/** The stage or the light of a reading, where it was told wrong. */
export function readingCorrected(id: ReadingID, told: Partial<Pick<NewReading, 'stage' | 'light'>>): Fact[] {
  const facts = new Facts('reading', id)
  if (told.stage !== undefined) facts.set('stage', told.stage)
  if (told.light !== undefined) facts.set('light', told.light)
  return facts.list
}

/** What of a batch of colour cards is told: a field that is not given stays as it is. */
export function cardFacts(card: Partial<Card> & Pick<Card, 'id'>): Fact[] {
  const facts = new Facts('card', card.id)
  for (const field of ['printed', 'how', 'measured', 'retired'] as const) {
    const value = card[field]
    if (value !== undefined) facts.set(field, value)
  }
  if (card.patches) facts.set('patches', formatLabs(card.patches))
  if (card.se !== undefined) facts.set('se', Math.round(card.se * 100))
  if (card.scale !== undefined) facts.set('scale', Math.round(card.scale * 100))
  return facts.list
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
  return facts.told('species', s.species).told('origin', s.origin).flag('protected', s.protected).told('from', s.from).list
}

export function plantingFacts(p: Planting): Fact[] {
  const facts = new Facts('planting', p.id).set('stock', p.stock).set('bed', p.bed)
  return facts.set('planted', p.planted).set('first_season', p.firstSeason).list
}

/** A plant as it is planted; moves, marks and photos come to it by facts of their own. */
export function plantFacts(p: NewPlant): Fact[] {
  const facts = new Facts('plant', p.id).set('code', p.code).set('planting', p.planting)
  facts.told('line', p.line).told('number', p.number).told('beside', p.beside).told('colour', p.colour).told('removed', p.removed)
  for (const [season, window] of [...p.counted].sort(bySeason)) facts.set(`counted.${season}`, formatWindow(window))
  for (const parent of p.parents) facts.say('add', 'parents', parent)
  return facts.list
}

export type NewPlant = Pick<Plant, 'id' | 'code' | 'planting' | 'line' | 'number' | 'parents' | 'beside' | 'colour' | 'removed' | 'counted'>

/** Marks a plant as counted in a season, or takes the mark off. */
export function countedFacts(plant: PlantID, season: Season, window: Window | undefined): Fact[] {
  return new Facts('plant', plant).set(`counted.${season}`, window ? formatWindow(window) : '').list
}

/** The colour class that a plant shows in a season, and so has. */
export function colourSeenFacts(plant: PlantID, season: Season, seen: Seen<Colour['id']>): Fact[] {
  return colourWasFacts(plant, season, seen, seen.what)
}

/** What was seen of a plant's colour in a season, undefined where nothing was, beside the class that it has, which may be another. */
export function colourWasFacts(plant: PlantID, season: Season, seen: Seen<Colour['id']> | undefined, has: Colour['id'] | ''): Fact[] {
  return new Facts('plant', plant).set('colour', has).set(`colour.${season}`, seen ? formatSeen(seen) : '').list
}

/** What a stand walk found in a season; undefined takes it back. */
export function standFacts(plant: PlantID, season: Season, found: Seen<Stand> | undefined): Fact[] {
  return new Facts('plant', plant).set(`stand.${season}`, found ? formatSeen(found) : '').list
}

/** Puts an element into one of a plant's sets of flags or notes, or takes it out. */
export function markFacts(plant: PlantID, set: 'flags' | 'notes', element: string, on: boolean): Fact[] {
  return new Facts('plant', plant).say(on ? 'add' : 'remove', set, element).list
}

/** Out of the places that were seen, into others. */
export function placeFacts(plant: PlantID, leaves: readonly PlaceSince[], enters: readonly PlaceSince[]): Fact[] {
  const facts = new Facts('plant', plant)
  for (const place of leaves) facts.say('remove', 'places', formatPlace(place))
  for (const place of enters) facts.say('add', 'places', formatPlace(place))
  return facts.list
}

/** Where a plant stood until a move, or takes that back. */
export function stayFacts(plant: PlantID, stay: Stay, move: string, on: boolean): Fact[] {
  return new Facts('plant', plant).say(on ? 'add' : 'remove', 'stood', formatStay(stay, move)).list
}

/** Says that a plant is no division of another. */
export function noParentFacts(plant: PlantID, parent: PlantID): Fact[] {
  return new Facts('plant', plant).say('remove', 'parents', parent).list
}

/** A plant's tag code, where it gets another. */
export function codeFacts(plant: PlantID, code: string): Fact[] {
  return new Facts('plant', plant).set('code', code).list
}

/** What was done to a bed. */
export function eventFacts(e: BedEvent): Fact[] {
  const facts = new Facts('event', e.id).set('bed', e.bed).set('kind', e.kind).set('date', e.date)
  return facts.told('person', e.person).told('what', e.what).told('until', e.until).list
}

/** What of an event is told otherwise than before. */
export function eventCorrected(before: BedEvent, now: BedEvent): Fact[] {
  const facts = new Facts('event', now.id)
  for (const field of ['bed', 'kind', 'date', 'person', 'what', 'until'] as const) {
    if (now[field] !== before[field]) facts.set(field, now[field])
  }
  return facts.list
}

/** Says that visits to one plant on one day are no repeats of each other, or takes that back. */
export function besideFacts(visit: VisitID, others: readonly VisitID[], on = true): Fact[] {
  const facts = new Facts('visit', visit)
  for (const other of others) facts.say(on ? 'add' : 'remove', 'beside', other)
  return facts.list
}

export function removedFacts(plant: PlantID, day: Day | ''): Fact[] {
  return new Facts('plant', plant).set('removed', day).list
}

/** Puts a photo to a plant, or takes it away. */
export function photoFacts(plant: PlantID, photo: PhotoHash, on: boolean): Fact[] {
  return new Facts('plant', plant).say(on ? 'add' : 'remove', 'photos', photo).list
}

export type NewVisit = Omit<Visit, 'beside'>

/** What a visit found. Counts of the same cell add up. */
export function visitFacts(v: NewVisit): Fact[] {
  const facts = new Facts('visit', v.id, visitScope(v.purpose))
  facts.told('plant', v.plant).told('bed', v.bed).told('planting', v.planting)
  facts.set('date', v.date).set('purpose', v.purpose).told('person', v.person).told('flush', v.flush)
  facts.flag('to_order', v.toOrder).told('age', v.age).told('stage', v.stage ?? '')
  const stems = new Map<string, number>()
  for (const c of v.counts) stems.set(cellOf(v, c), (stems.get(cellOf(v, c)) ?? 0) + c.stems)
  for (const cell of [...stems.keys()].sort(compareText)) facts.say('count', cell, stems.get(cell)!)
  return facts.list
}

function cellOf(v: NewVisit, c: Count): string {
  return v.plant !== '' ? plantCell(c.grade, c.length) : bedCell(c.colour, c.grade, c.length)
}

/** Whether a visit left wanted stems standing: its count is then no more than a lower bound. */
export function toOrderFact(visit: VisitID, on: boolean): Fact {
  return { scope: 'field', op: 'set', type: 'visit', id: visit, field: 'to_order', value: on ? 1 : 0 }
}

/** How open the heads of a bench total were when they were cut; '' takes it back. */
export function stageFact(visit: VisitID, stage: Stage | ''): Fact {
  return { scope: 'shed', op: 'set', type: 'visit', id: visit, field: 'stage', value: stage }
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
