// Planting a tray as it is told on the screen: what the fields come to, and what keeps it from being planted.

import type { Bed, BedID, Day, Farm, Millimetres, Origin, Place, PlantID, PlantingID, Season, Stock, StockID } from '../crop/nouns'
import { parseDay } from '../crop/day'
import { firstSeasonOf, gapsIn, type Lines, mostPlants, passedOver, placesFor, plantedTo, takenPlaces, type Tray } from '../crop/planting_out'
import { wholeNumber } from '../ui/TotalEditor'
import { type BedForm, mostLines, readBedForm } from './bed_form'

export interface TrayForm {
  /** Ids that a new stock and a new bed will have. */
  readonly newStock: StockID
  readonly newBed: BedID
  /** One of the farm's, or the new one's. */
  readonly stock: StockID
  readonly bed: BedID
  readonly stockForm: StockForm
  readonly bedForm: BedForm
  readonly plants: string
  readonly from: string
  /** '' is the bed's last line. */
  readonly to: string
  readonly first: string
  readonly gapsOnly: boolean
  readonly planted: string
  /** As somebody said it; undefined is as the rule has it. */
  readonly firstSeason: Season | undefined
}

export interface StockForm {
  readonly name: string
  readonly species: string
  readonly origin: Origin | ''
  readonly protected: boolean
}

/** Sizes of trays in the trade: common practice, no source. */
export const traySizes = [50, 72, 128, 200] as const
/** A number along a line beyond this is a slip. */
const mostNumber = 9_999
const linesAtFirst = '4'

export type TrayProblem = 'stock' | 'bed' | 'bed_measure' | 'day' | 'lines' | 'first' | 'plants' | 'most' | 'gaps_none' | 'gaps_few'

export interface TrayPlan {
  readonly bed: Bed
  readonly stock: Stock
  readonly lines: Lines
  readonly places: readonly Place[]
  /** Taken places that were passed over; 0 where only gaps are filled, since that is what it means. */
  readonly passed: number
  /** Free places of the lines as far as they were ever planted. */
  readonly gaps: number
  readonly standing: readonly Place[]
  readonly planted: Day
  readonly proposed: Season
  readonly firstSeason: Season
  /** What is in the way, first things first. */
  readonly problems: readonly TrayProblem[]
}

export const nothingKnown = { length: 0 as Millimetres, width: 0 as Millimetres, lines: 0, cutBack: new Map() } satisfies Omit<Bed, 'id' | 'name'>

/** A form with what is likeliest: the bed asked for, the stock that came last in a tray, the whole bed, today. */
export function freshTray(farm: Farm, asked: BedID | undefined, today: Day, ids: readonly [StockID, BedID], bedName: string): TrayForm {
  const [newStock, newBed] = ids
  const stock = trayStockOf(farm) ?? newStock
  return {
    newStock, newBed, stock, bed: asked && farm.beds.has(asked) ? asked : newBed,
    stockForm: freshStock(farm),
    bedForm: { name: bedName, length: '', width: '', lines: linesAtFirst },
    plants: '72', from: '1', to: '', first: '1', gapsOnly: false, planted: today, firstSeason: undefined,
  }
}

/** The stock planted last of those that come in trays, else any such. */
function trayStockOf(farm: Farm): StockID | undefined {
  const inTrays = (id: StockID) => !['division', 'self_sown'].includes(farm.stocks.get(id)?.origin ?? 'self_sown')
  const plantings = [...farm.plantings.values()].filter(({ stock }) => inTrays(stock)).sort((a, b) => (a.planted < b.planted ? -1 : 1))
  return plantings.at(-1)?.stock ?? [...farm.stocks.keys()].find(inTrays)
}

/** A new stock is of the farm's species where it has but one. */
export function freshStock(farm: Farm): StockForm {
  const species = speciesOf(farm)
  return { name: '', species: species.length === 1 ? species[0] ?? '' : '', origin: '', protected: false }
}

/** What the fields come to on a farm. */
export function readTray(form: TrayForm, farm: Farm, today: Day): TrayPlan {
  const problems: TrayProblem[] = []
  const stock = stockIn(form, farm)
  if (stock.name === '') problems.push('stock')
  const { bed, fit } = bedIn(form, farm)
  if (!fit) problems.push(bed.name === '' ? 'bed' : 'bed_measure')
  const planted = parseDay(form.planted)
  if (planted === undefined || planted > today) problems.push('day')
  const proposed = firstSeasonOf(farm.calendar, planted ?? today)
  const ground = placesOf(form, farm, bed)
  return {
    bed, stock, ...ground, planted: planted ?? today, proposed, firstSeason: form.firstSeason ?? proposed,
    problems: [...problems, ...ground.problems],
  }
}

function stockIn({ stock, newStock, stockForm }: TrayForm, farm: Farm): Stock {
  const there = farm.stocks.get(stock)
  return there ?? { ...stockForm, id: newStock, name: stockForm.name.trim(), species: stockForm.species.trim(), from: '' }
}

function bedIn({ bed, newBed, bedForm }: TrayForm, farm: Farm): { bed: Bed; fit: boolean } {
  const there = farm.beds.get(bed)
  if (there) return { bed: there, fit: true }
  const read = readBedForm(bedForm, { ...nothingKnown, id: newBed, name: '' }, farm)
  return { bed: read.bed, fit: read.problems.length === 0 }
}

type Ground = Pick<TrayPlan, 'lines' | 'places' | 'passed' | 'gaps' | 'standing' | 'problems'>

function placesOf(form: TrayForm, farm: Farm, bed: Bed): Ground {
  const taken = takenPlaces(farm, bed.id)
  const standing = placesOfKeys(taken, bed.id)
  const { lines, problems } = linesOf(form, bed)
  const wanted = wholeNumber(form.plants, 999_999)
  if (wanted === undefined || wanted === 0) problems.push('plants')
  else if (wanted > mostPlants) problems.push('most')
  const nothing = { lines, places: [], passed: 0, gaps: 0, standing }
  if (problems.includes('lines') || problems.includes('first')) return { ...nothing, problems }
  const gaps = gapsIn(plantedTo(farm, bed.id), taken, bed.id, lines)
  if (form.gapsOnly && gaps.length === 0) problems.push('gaps_none')
  else if (form.gapsOnly && gaps.length < (wanted ?? 0)) problems.push('gaps_few')
  if (problems.length > 0 || wanted === undefined) return { ...nothing, gaps: gaps.length, problems }
  if (form.gapsOnly) return { ...nothing, places: gaps.slice(0, wanted), gaps: gaps.length, problems }
  const places = placesFor(taken, bed.id, lines, wanted)
  return { lines, places, passed: passedOver(taken, places, lines.first), gaps: gaps.length, standing, problems }
}

/** The places of a bed by their keys. */
export function placesOfKeys(taken: ReadonlySet<string>, bed: BedID): Place[] {
  return [...taken].map((key) => {
    const [line, number] = key.split('/')
    return { bed, line: Number(line), number: Number(number) }
  })
}

function linesOf(form: TrayForm, bed: Bed): { lines: Lines; problems: TrayProblem[] } {
  const most = bed.lines > 0 ? bed.lines : mostLines
  const from = wholeNumber(form.from, most)
  const to = form.to.trim() === '' ? lastLineOf(bed, from ?? 1) : wholeNumber(form.to, most)
  const first = wholeNumber(form.first, mostNumber)
  const problems: TrayProblem[] = []
  if (!from || !to || from > to) problems.push('lines')
  if (!first) problems.push('first')
  return { lines: { from: from || 1, to: to || 1, first: first || 1 }, problems }
}

/** The bed's last line; of a bed without lines told, the line begun with. */
export function lastLineOf(bed: Pick<Bed, 'lines'>, from: number): number {
  return bed.lines > 0 ? bed.lines : from
}

/** The tray to be said, with codes and new ids. */
export function trayOf(plan: TrayPlan, planting: PlantingID, codes: readonly string[], newID: () => string): Tray {
  const { bed, stock, planted, firstSeason, places } = plan
  return {
    bed, stock, planting: { id: planting, stock: stock.id, bed: bed.id, planted, firstSeason },
    plants: places.map((place, i) => ({ id: newID() as PlantID, code: codes[i] ?? '', place })),
  }
}

/** The species that the farm's stocks name, each once. */
export function speciesOf(farm: Farm): string[] {
  return [...new Set([...farm.stocks.values()].map(({ species }) => species).filter((species) => species !== ''))].sort((a, b) => a.localeCompare(b))
}

/** Divisions of a protected stock need a licence, of which Corymb knows nothing. */
export function needsLicence({ protected: on, origin }: Pick<Stock, 'protected' | 'origin'>): boolean {
  return on && origin === 'division'
}
