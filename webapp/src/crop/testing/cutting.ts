// A farm that sells, for tests of what is to be cut: of which a test tells only what it is about.

import { LiveLots } from '../live_lots'
import { noSales, noTerms } from '../live_sales'
import type { BedID, ColourID, Count, Day, Farm, Millimetres, Plant, PlantID, PlantingID, Purpose, ToldGrade, Visit, VisitID } from '../nouns'
import { untoldLength } from '../nouns'
import type { Buyer, BuyerID, ChannelID, Line, LineID, Order, OrderID, Packed, PackedID, Sales, SaleTerms, Shrink } from '../sale_nouns'
import { bedWith, farmWith, plantingWith, plantWith, visitWith } from './nouns'

export const day = '2026-06-03' as Day
export const buyer = 'buyer' as BuyerID

export interface LineTold {
  readonly due?: string
  readonly stems: number
  readonly bunches?: number
  readonly grade?: ToldGrade
  readonly cm?: number
  readonly colours?: string
  readonly exact?: boolean
}

/** Written "ember first 60": colour, grade, the length class from so many centimetres on; '-' is untold. */
export function countOf(told: string, stems: number): Count {
  const [colour = '-', grade = '-', cm = '-'] = told.split(' ')
  const lo = Number(cm) * 10 as Millimetres
  return {
    colour: (colour === '-' ? '' : colour) as ColourID | '', grade: (grade === '-' ? '' : grade) as ToldGrade, stems,
    length: cm === '-' ? untoldLength : { lo, hi: lo + 100 as Millimetres },
  }
}

let visits = 0

export function cutVisit(purpose: Purpose, bed: string, told: string, stems: number, date: string = day, more: Partial<Visit> = {}): Visit {
  return visitWith({ id: `v${visits++}` as VisitID, purpose, bed: bed as BedID, date: date as Day, counts: [countOf(told, stems)], ...more })
}

/** So many plants of a colour in a bed: ids "bed colour 1" and so on. */
export function plantsIn(bed: string, colour: string, n: number): Plant[] {
  return Array.from({ length: n }, (_, i) => plantWith({
    id: `${bed} ${colour} ${i + 1}` as PlantID, code: `${bed}-${colour}-${i + 1}`, planting: bed as unknown as PlantingID, colour: (colour === '-' ? '' : colour) as ColourID | '', line: 1, number: i + 1,
  }))
}

export interface Told {
  readonly plants?: readonly Plant[]
  readonly visits?: readonly Visit[]
  readonly lines?: readonly LineTold[]
  readonly accepts?: Readonly<Record<string, string>>
  readonly terms?: Partial<SaleTerms>
  readonly packed?: readonly Packed[]
  readonly shrink?: readonly Shrink[]
}

export const beds = ['A', 'B', 'C'] as BedID[]

export function sellingFarm({ plants = [], visits: cut = [], ...told }: Told): Farm {
  const ground = { beds: beds.map((id) => bedWith({ id, name: id })), plantings: beds.map((bed) => plantingWith({ id: bed as unknown as PlantingID, bed })) }
  const lots = new LiveLots()
  for (const visit of cut) lots.takeVisit(undefined, visit)
  for (const one of told.packed ?? []) lots.takePacked(undefined, one)
  for (const one of told.shrink ?? []) lots.takeShrink(undefined, one)
  return farmWith({ ...ground, plants, visits: cut }, { sales: salesOf(told), lots: lots.lots })
}

export function salesOf({ lines = [], accepts = {}, terms = {}, packed = [], shrink = [] }: Omit<Told, 'plants' | 'visits'>): Sales {
  const nouns = lines.map(lineOf)
  const taker: Buyer = {
    id: buyer, name: 'Studio', channel: 'ch' as ChannelID, address: '', phone: '', email: '', note: '',
    accepts: new Map(Object.entries(accepts).map(([asked, others]) => [asked as ColourID, others.split(' ') as ColourID[]])),
  }
  const orders = lines.map(({ due = day }, i): Order => ({ id: `o${i}` as OrderID, buyer, due: due as Day, taken: '', note: '' }))
  return {
    ...noSales(), terms: { ...noTerms, ...terms }, buyers: new Map([[buyer, taker]]), orders: new Map(orders.map((one) => [one.id, one])),
    ordersDue: grouped(orders, ({ due }) => due), lines: new Map(nouns.map((one) => [one.id, one])), linesOf: grouped(nouns, ({ order }) => order as OrderID),
    packed: new Map(packed.map((one) => [one.id, one])), packedOf: grouped(packed, ({ line }) => line), shrink: new Map(shrink.map((one) => [one.id, one])),
  }
}

function lineOf({ stems, bunches = 1, grade = '', cm = 0, colours = '', exact = false }: LineTold, i: number): Line {
  return {
    id: `l${i}` as LineID, order: `o${i}` as OrderID, standing: '', bunch: '', bunches, stems, grade, length: cm * 10 as Millimetres,
    colours: colours === '' ? [] : colours.split(' ') as ColourID[], whole: false, exact, price: 0 as Line['price'],
  }
}

export function packedWith(line: string, bunches: number, stems: Readonly<Record<string, number>>, date = day): Packed {
  return { id: `p ${line}` as PackedID, line: line as LineID, buyer, due: day, date, person: '', bunches, stems: new Map(Object.entries(stems)) }
}

function grouped<K, V extends { readonly id: string }>(all: readonly V[], of: (one: V) => K): ReadonlyMap<K, ReadonlySet<V['id']>> {
  const found = new Map<K, Set<V['id']>>()
  for (const one of all) found.set(of(one), (found.get(of(one)) ?? new Set()).add(one.id))
  return found
}

