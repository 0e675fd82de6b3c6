// A small farm that sells, for tests of papers: read from the facts that a test tells.

import { bedFacts, colourFacts, visitFacts } from '../../crop/facts'
import { lotCell } from '../../crop/lots'
import type { BedID, ColourID, Day, Farm, Grade, LengthClass, Millimetres, VisitID } from '../../crop/nouns'
import { buyerFacts, lineFacts, orderFacts, packedCount, packedFacts } from '../../crop/sale_facts'
import type { BuyerID, Cents, ChannelID, Line, LineID, LotID, OrderID, PackedID } from '../../crop/sale_nouns'
import { bedWith, colourWith } from '../../crop/testing/nouns'
import { farmSaid } from '../../crop/testing/said'
import type { Fact } from '../../log/change'

export const day = '2026-06-04' as Day
export const fifty: LengthClass = { lo: 500 as Millimetres, hi: 600 as Millimetres }

export function lotWith(told: Partial<LotID> = {}): LotID {
  return { bed: 'b' as BedID, cut: '2026-06-03' as Day, colour: 'ember' as ColourID, grade: 'first', length: fifty, ...told }
}

export function lineWith(id: string, told: Partial<Line> = {}): Line {
  return {
    id: id as LineID, order: 'o' as OrderID, standing: '', bunch: '', bunches: 2, stems: 10, grade: 'first', length: 400 as Millimetres,
    colours: ['ember' as ColourID], whole: false, exact: false, price: 520 as Cents, ...told,
  }
}

/** A buyer with an order that is due on the day, or another. */
export function ordered(order: string, buyer: string, lines: readonly Line[], due = day): Fact[] {
  return [
    ...buyerFacts(buyer as BuyerID, { name: buyer, channel: 'ch' as ChannelID }),
    ...orderFacts({ id: order as OrderID, buyer: buyer as BuyerID, due, taken: '', note: '' }),
    ...lines.flatMap((line) => lineFacts({ ...line, order: order as OrderID })),
  ]
}

export function packed(id: string, line: string, buyer: string, bunches: number, stems: readonly (readonly [LotID, number])[]): Fact[] {
  return [
    ...packedFacts({ id: id as PackedID, line: line as LineID, buyer: buyer as BuyerID, due: day, date: day, person: '' }),
    packedCount(id as PackedID, 'bunches', bunches), ...stems.map(([lot, n]) => packedCount(id as PackedID, lotCell(lot), n)),
  ]
}

/** What came over the bench of a bed on a day. */
export function bench(bed: string, date: string, counts: readonly (readonly [string, Grade, number])[]): Fact[] {
  return visitFacts({
    id: `${bed} ${date}` as VisitID, plant: '', bed: bed as BedID, date: date as Day, purpose: 'bench', person: '', flush: '', toOrder: false, planting: '', age: 0, stage: '',
    counts: counts.map(([colour, grade, stems]) => ({ colour: colour as ColourID, grade, length: fifty, stems })),
  })
}

export function farmThatSold(...facts: readonly (readonly Fact[])[]): Farm {
  return farmSaid(
    [...bedFacts(bedWith({ id: 'b' as BedID, name: 'Elder' })), ...['ember', 'oyster'].flatMap((name) => colourFacts(colourWith({ id: name as ColourID, name })))],
    ...facts,
  )
}
