// Cuts of a spreadsheet: stems of a plant, or, where none is named, the bench's total of a bed.

import { colourFacts, personFacts, visitFacts, withdrawnFact, visitScope } from '../crop/facts'
import {
  type BedID, type Colour, type ColourID, type Count, type Day, type Flush, mostBenchStems, mostStems, type Person, type PersonID, type Plant, type PlantID, type Visit, type VisitID,
} from '../crop/nouns'
import { bedOn } from '../crop/places'
import { seasonOf } from '../crop/season'
import { flushOf } from '../crop/visit_day'
import { t } from '../messages/messages'
import { type Cells, short } from './cells'
import { plain } from './columns'
import { Named, nameKey, opened, planned, type Reading, type SheetPlan } from './plan'

interface NewVisit {
  readonly row: Cells
  readonly plant: PlantID | ''
  readonly bed: BedID | ''
  readonly date: Day
  readonly person: PersonID | ''
  readonly flush: Flush
  readonly counts: Count[]
}

const flushes: Readonly<Record<string, Flush>> = { spring: 'spring', primavera: 'spring', fall: 'fall', autumn: 'fall', otono: 'fall' }

export function planCuts(reading: Reading): SheetPlan {
  const { farm, newID } = reading
  const { rows, problems } = opened(reading)
  const plants = new Map([...farm.plants.values()].map((plant) => [plant.code, plant] as const))
  const beds = new Map([...farm.beds.values()].map((bed) => [nameKey(bed.name), bed.id] as const))
  const people = new Named<Person>(farm.people.values(), (name) => ({ id: newID() as PersonID, name }))
  const colours = new Named<Colour>(farm.colours.values(), (name) => ({ id: newID() as ColourID, name, swatch: '', lab: undefined, limit: 0, labFrom: '' }))
  const visits = new Map<string, NewVisit>()
  for (const row of rows) readCut(reading, row, { plants, beds, people, colours, visits })
  const fresh: NewVisit[] = []
  let same = 0
  for (const visit of visits.values()) {
    const there = before(reading, visit)
    if (there.length === 0) fresh.push(visit)
    else if (there.some((one) => countsKey(one.counts) === countsKey(visit.counts))) same += visit.counts.length
    else visit.row.refuse(undefined, t('sheets.wrong.cut_there', { n: stemsOf(there[0]!.counts) }))
  }
  const written = fresh.map((visit) => ({ ...visit, id: newID() as VisitID, purpose: visit.plant === '' ? 'bench' as const : 'cut' as const }))
  const facts = [
    ...people.made.flatMap(personFacts), ...colours.made.flatMap(colourFacts),
    ...written.flatMap(({ row: _, ...visit }) => visitFacts({ ...visit, toOrder: false, planting: '', age: 0, stage: '' })),
  ]
  const undo = [
    ...written.map(({ id, purpose }) => withdrawnFact('visit', id, true, visitScope(purpose))),
    ...colours.made.map(({ id }) => withdrawnFact('colour', id, true)), ...people.made.map(({ id }) => withdrawnFact('person', id, true)),
  ]
  return planned(problems, { would: would(fresh, people.made.length, colours.made.length), same, deed: { facts, undo } })
}

function would(fresh: readonly NewVisit[], people: number, colours: number): string[] {
  const [ofPlants, ofBeds] = [fresh.filter(({ plant }) => plant !== ''), fresh.filter(({ plant }) => plant === '')]
  const sum = (visits: readonly NewVisit[]) => visits.reduce((n, { counts }) => n + stemsOf(counts), 0)
  return [
    ...(ofPlants.length > 0 ? [t('sheets.would.cuts', { n: ofPlants.length, stems: t('stems', { n: sum(ofPlants) }) })] : []),
    ...(ofBeds.length > 0 ? [t('sheets.would.bench', { n: ofBeds.length, stems: t('stems', { n: sum(ofBeds) }) })] : []),
    ...(people > 0 ? [t('sheets.would.people', { n: people })] : []),
    ...(colours > 0 ? [t('sheets.would.colours', { n: colours })] : []),
  ]
}

interface Found {
  readonly plants: ReadonlyMap<string, Plant>
  readonly beds: ReadonlyMap<string, BedID>
  readonly people: Named<Person>
  readonly colours: Named<Colour>
  readonly visits: Map<string, NewVisit>
}

function readCut(reading: Reading, row: Cells, { plants, beds, people, colours, visits }: Found): void {
  const { farm } = reading
  const date = row.need('date') === '' ? '' : row.past('date')
  const code = row.text('plant')
  const plant = plants.get(code)
  if (code !== '' && !plant) return row.refuse('plant', t('sheets.wrong.no_plant', { found: short(code) }))
  const bedName = row.text('bed')
  const bed = beds.get(nameKey(bedName))
  if (code === '' && bedName === '') return row.refuse('plant', t('sheets.wrong.plant_or_bed'))
  if (bedName !== '' && bed === undefined) return row.refuse('bed', t('sheets.wrong.no_bed', { found: short(bedName) }))
  const stems = row.need('stems') === '' ? undefined : row.whole('stems', 0, plant ? mostStems : mostBenchStems)
  const grade = row.grade()
  const length = row.lengthClass()
  if (date === '' || stems === undefined) return
  if (plant && !stood(reading, row, plant, date, bed)) return
  const colour = colourOf(reading, row, plant, colours)
  const person = row.text('person')
  const flush = flushIn(farm, row, (plant ? bedOn(farm, plant, date) : bed) ?? '', date)
  const of = { plant: plant?.id ?? '' as const, bed: plant ? '' as const : bed!, date, person: person === '' ? '' as const : people.of(person).id, flush }
  const key = [of.plant, of.bed, date, of.person, flush].join('\n')
  const visit = visits.get(key) ?? { row, ...of, counts: [] }
  visits.set(key, visit)
  visit.counts.push({ colour, grade, length, stems })
}

/** Whether a plant stood on the day, in the bed that is told with it. */
function stood({ farm }: Reading, row: Cells, plant: Plant, date: Day, bed: BedID | undefined): boolean {
  const planted = farm.plantings.get(plant.planting)?.planted ?? ''
  if (planted !== '' && date < planted) row.refuse('date', t('sheets.wrong.before_planted', { planted }))
  else if (plant.removed !== '' && date > plant.removed) row.refuse('date', t('sheets.wrong.after_removed', { removed: plant.removed }))
  else if (bed !== undefined && bedOn(farm, plant, date) !== bed) row.refuse('bed', t('sheets.wrong.other_bed', { code: plant.code }))
  else return true
  return false
}

/** A plant has its own colour class; that of its stems is not told apart. */
function colourOf({ farm }: Reading, row: Cells, plant: Plant | undefined, colours: Named<Colour>): ColourID | '' {
  const name = row.text('colour')
  if (name === '') return ''
  if (!plant) return colours.of(name).id
  const its = plant.colour === '' ? undefined : farm.colours.get(plant.colour)
  if (nameKey(its?.name ?? '') !== nameKey(name)) row.refuse('colour', t('sheets.wrong.other_colour', { code: plant.code, is: its?.name ?? t('sheets.none') }))
  return ''
}

function flushIn(farm: Reading['farm'], row: Cells, bed: BedID | '', date: Day): Flush {
  const usual = flushOf(bed === '' ? undefined : farm.beds.get(bed), seasonOf(farm.calendar, date), date)
  const text = row.text('flush')
  if (text === '') return usual
  const flush = flushes[plain(text)]
  if (flush === undefined) row.refuse('flush', t('sheets.wrong.flush', { found: short(text) }))
  return flush ?? usual
}

/** What the farm has of the same plant, or the bench of the same bed, on the same day by the same person. */
function before({ farm }: Reading, { plant, bed, date, person }: NewVisit): Visit[] {
  const ids = plant !== '' ? farm.visitsOf.get(plant) : farm.visitsOn.get(date)
  return [...ids ?? []].flatMap((id) => farm.visits.get(id) ?? []).filter((visit) =>
    visit.date === date && (plant !== '' ? visit.purpose === 'cut' : visit.purpose === 'bench' && visit.bed === bed) && (visit.person === person || visit.person === '' || person === ''))
}

function countsKey(counts: readonly Count[]): string {
  const cells = new Map<string, number>()
  for (const { colour, grade, length, stems } of counts) {
    const cell = `${colour}|${grade}|${length.lo}|${length.hi}`
    cells.set(cell, (cells.get(cell) ?? 0) + stems)
  }
  return [...cells].filter(([, n]) => n !== 0).map(([cell, n]) => `${cell}=${n}`).sort().join()
}

function stemsOf(counts: readonly Count[]): number {
  return counts.reduce((n, { stems }) => n + stems, 0)
}
