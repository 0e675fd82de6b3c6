// Plants of a spreadsheet: a row each, with their stock and bed. Those that stand are changed in their colour and in when
// they were removed, and are told apart by their code.

import { plantFacts, plantingFacts, colourFacts, bedFacts, stockFacts, removedFacts, withdrawnFact, Facts, countedFacts } from '../crop/facts'
import type { Bed, BedID, Colour, ColourID, Day, Millimetres, Plant, PlantID, Planting, PlantingID, Season, Stock, StockID, Window } from '../crop/nouns'
import { bedOf, placeKey } from '../crop/places'
import { firstSeasonOf, takenPlaces } from '../crop/planting_out'
import { seasonOf, span } from '../crop/season'
import type { Fact } from '../log/change'
import { t } from '../messages/messages'
import type { Cells } from './cells'
import { Named, opened, planned, type Reading, type SheetPlan } from './plan'

interface NewPlant {
  readonly id: PlantID
  readonly code: string
  readonly row: Cells
  readonly planting: Planting
  readonly line: number
  readonly number: number
  readonly colour: ColourID | ''
  readonly removed: Day | ''
  readonly parent: string
  readonly span: Window | undefined
}

export function planPlants(reading: Reading): SheetPlan {
  return new PlantsPlan(reading).made()
}

class PlantsPlan {
  private readonly rows
  private readonly problems
  private readonly beds
  private readonly stocks
  private readonly colours
  private readonly byCode = new Map<string, Plant>()
  private readonly plantings = new Map<string, Planting>()
  private readonly newPlantings: Planting[] = []
  private readonly lines = new Map<string, number>()
  private readonly taken
  private readonly plants = new Map<string, NewPlant>()
  private readonly changes: Fact[] = []
  private readonly back: Fact[] = []
  private changed = 0
  private same = 0

  constructor(private readonly reading: Reading) {
    const { farm, newID } = reading
    const { rows, problems } = opened(reading)
    this.rows = rows
    this.problems = problems
    this.beds = new Named<Bed>(farm.beds.values(), (name) => ({ id: newID() as BedID, name, length: 0 as Millimetres, width: 0 as Millimetres, lines: 0, cutBack: new Map() }))
    this.stocks = new Named<Stock>(farm.stocks.values(), (name) => ({ id: newID() as StockID, name, species: '', origin: '', protected: false, from: '' }))
    this.colours = new Named<Colour>(farm.colours.values(), (name) => ({ id: newID() as ColourID, name, swatch: '', lab: undefined, limit: 0, labFrom: '' }))
    for (const plant of farm.plants.values()) this.byCode.set(plant.code, plant)
    for (const planting of farm.plantings.values()) this.plantings.set(keyOf(planting), planting)
    this.taken = takenPlaces(farm)
  }

  made(): SheetPlan {
    for (const row of this.rows) this.read(row)
    for (const plant of this.plants.values()) this.checkParent(plant)
    const facts = [
      ...this.beds.made.flatMap(bedFacts), ...this.stocks.made.flatMap(stockFacts), ...this.colours.made.flatMap(colourFacts), ...this.newPlantings.flatMap(plantingFacts),
      ...[...this.plants.values()].flatMap((plant) => this.factsOf(plant)), ...this.changes,
    ]
    const undo = [
      ...[...this.plants.values()].map(({ id }) => withdrawnFact('plant', id, true)), ...this.newPlantings.map(({ id }) => withdrawnFact('planting', id, true)),
      ...this.colours.made.map(({ id }) => withdrawnFact('colour', id, true)), ...this.stocks.made.map(({ id }) => withdrawnFact('stock', id, true)),
      ...this.beds.made.map(({ id }) => withdrawnFact('bed', id, true)), ...this.back,
    ]
    return planned(this.problems, { would: this.would(), same: this.same, deed: { facts, undo } })
  }

  private would(): string[] {
    const said = (n: number, key: 'plants' | 'plants_changed' | 'beds' | 'stocks' | 'colours') => (n > 0 ? [t(`sheets.would.${key}`, { n })] : [])
    return [
      ...said(this.plants.size, 'plants'), ...said(this.changed, 'plants_changed'), ...said(this.beds.made.length, 'beds'),
      ...said(this.stocks.made.length, 'stocks'), ...said(this.colours.made.length, 'colours'),
    ]
  }

  private read(row: Cells): void {
    const code = row.need('plant')
    const [stock, bed] = [row.need('stock'), row.need('bed')]
    const planted = row.need('planted') === '' ? '' : row.past('planted')
    const removed = row.past('removed')
    if (removed !== '' && planted !== '' && removed < planted) return row.refuse('removed', t('sheets.wrong.before_planted', { planted }))
    const earlier = this.lines.get(code)
    if (code !== '' && earlier !== undefined) return row.refuse('plant', t('sheets.wrong.plant_twice', { code, line: earlier }))
    this.lines.set(code, row.line)
    if (code === '' || stock === '' || bed === '' || planted === '') return
    const there = this.byCode.get(code)
    if (there) this.compare(row, there, { stock, bed, planted, removed })
    else this.add(row, code, this.plantingOf(row, stock, bed, planted), removed)
  }

  private plantingOf(row: Cells, stockName: string, bedName: string, planted: Day): Planting {
    const calendar = this.reading.farm.calendar
    const stock = this.stockOf(row, stockName)
    const bed = this.beds.of(bedName)
    const told = row.whole('first_season', 1900, 9999) as Season | undefined
    const at = seasonOf(calendar, planted)
    if (told !== undefined && told !== at && told !== at + 1) row.refuse('first_season', t('sheets.wrong.first_season', { planted, season: String(at), next: String(at + 1) }))
    const one = { stock: stock.id, bed: bed.id, planted }
    const known = this.plantings.get(keyOf(one))
    if (known) {
      if (told !== undefined && told !== known.firstSeason) row.refuse('first_season', t('sheets.wrong.other_first_season', { season: String(known.firstSeason) }))
      return known
    }
    const planting: Planting = { id: this.reading.newID() as PlantingID, ...one, firstSeason: told ?? firstSeasonOf(calendar, planted) }
    this.plantings.set(keyOf(one), planting)
    this.newPlantings.push(planting)
    return planting
  }

  private stockOf(row: Cells, name: string): Stock {
    const species = row.text('species')
    const known = this.stocks.find(name)
    if (known) {
      if (species !== '' && known.species !== '' && known.species !== species) row.refuse('species', t('sheets.wrong.other_species', { stock: name, species: known.species }))
      return known
    }
    const made = this.stocks.of(name)
    if (species !== '') Object.assign(made, { species })
    return made
  }

  private add(row: Cells, code: string, planting: Planting, removed: Day | ''): void {
    const line = row.whole('line', 1, 999) ?? 0
    const number = row.whole('number', 1, 99_999) ?? 0
    if ((line === 0) !== (number === 0)) row.refuse(line === 0 ? 'line' : 'number', t('sheets.wrong.place_half'))
    const place = placeKey({ bed: planting.bed, line, number })
    if (line > 0 && removed === '' && this.taken.has(place)) row.refuse('number', t('sheets.wrong.place_taken'))
    if (line > 0 && removed === '') this.taken.add(place)
    const name = row.text('colour')
    const colour = name === '' ? '' : this.colours.of(name).id
    const plant = { id: this.reading.newID() as PlantID, code, row, planting, line, number, colour, removed, parent: row.text('parent'), span: this.spanOf(row) } as const
    this.plants.set(code, plant)
  }

  private spanOf(row: Cells): Window | undefined {
    const [from, to] = [row.day('counted_from'), row.day('counted_to')]
    if (row.text('counted_from') === '' && row.text('counted_to') === '') return undefined
    if (row.text('counted_from') === '') row.refuse('counted_from', t('sheets.wrong.span'))
    else if (row.text('counted_to') === '' || (from !== '' && to !== '' && from > to)) row.refuse('counted_to', t('sheets.wrong.span'))
    return from === '' || to === '' ? undefined : { from, to }
  }

  private checkParent({ row, parent, code }: NewPlant): void {
    if (parent === '') return
    if (parent === code || !(this.plants.has(parent) || this.byCode.has(parent))) row.refuse('parent', t('sheets.wrong.parent', { found: parent }))
  }

  private factsOf({ id, code, planting, line, number, colour, removed, parent, span: told }: NewPlant): Fact[] {
    const mother = parent === '' ? undefined : this.plants.get(parent)?.id ?? this.byCode.get(parent)?.id
    const counted = told ? this.windows(planting, told) : []
    return [
      ...plantFacts({ id, code, planting: planting.id, line, number, parents: mother === undefined ? [] : [mother], beside: '', colour, removed, counted: new Map() }),
      ...counted.flatMap(([season, window]) => countedFacts(id, season, window)),
    ]
  }

  /** The part of what was declared that lies in each season in which the planting stood, up to this one. */
  private windows({ firstSeason }: Planting, { from, to }: Window): [Season, Window][] {
    const { farm: { calendar }, today } = this.reading
    const last = Math.min(seasonOf(calendar, to), seasonOf(calendar, today))
    const windows: [Season, Window][] = []
    for (let season = Math.max(seasonOf(calendar, from), firstSeason); season <= last; season++) {
      const whole = span(calendar, season as Season)
      windows.push([season as Season, { from: from > whole.from ? from : whole.from, to: to < whole.to ? to : whole.to }])
    }
    return windows
  }

  /** What stands is changed in what a season brings, and no row moves a plant. */
  private compare(row: Cells, plant: Plant, told: { readonly stock: string; readonly bed: string; readonly planted: Day; readonly removed: Day | '' }): void {
    const { farm } = this.reading
    const planting = farm.plantings.get(plant.planting)
    const stock = planting && farm.stocks.get(planting.stock)
    const at = bedOf(farm, plant)
    const bed = at === undefined ? undefined : farm.beds.get(at)
    const differs = [
      ['stock', stock?.name ?? '', this.stocks.find(told.stock)?.id === stock?.id], ['bed', bed?.name ?? '', this.beds.find(told.bed)?.id === bed?.id],
      ['planted', planting?.planted ?? '', planting?.planted === told.planted],
    ] as const
    for (const [column, is, agrees] of differs) if (!agrees) row.refuse(column, t('sheets.wrong.other_plant', { code: plant.code, is }))
    const name = row.text('colour')
    const colour = name === '' ? plant.colour : this.colours.of(name).id
    const before = this.changes.length
    if (colour !== plant.colour) {
      this.changes.push(...new Facts('plant', plant.id).set('colour', colour).list)
      this.back.push(...new Facts('plant', plant.id).set('colour', plant.colour).list)
    }
    if (told.removed !== '' && told.removed !== plant.removed) {
      this.changes.push(...removedFacts(plant.id, told.removed))
      this.back.push(...removedFacts(plant.id, plant.removed))
    }
    if (this.changes.length > before) this.changed++
    else this.same++
  }
}

function keyOf({ stock, bed, planted }: Pick<Planting, 'stock' | 'bed' | 'planted'>): string {
  return `${stock}\n${bed}\n${planted}`
}
