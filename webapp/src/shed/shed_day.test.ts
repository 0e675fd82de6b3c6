import { expect, it } from 'vitest'
import { visitFacts, withdrawnFact } from '../crop/facts'
import { lotCell } from '../crop/lots'
import type { BedID, ColourID, Day, Millimetres, VisitID } from '../crop/nouns'
import { lineFacts, orderFacts, packedCount, packedFacts } from '../crop/sale_facts'
import type { BuyerID, Cents, LineID, LotID, OrderID, PackedID } from '../crop/sale_nouns'
import { visitWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import { shedDay } from './shed_day'

const today = '2026-06-02' as Day
const lot = (cut: string): LotID => ({ bed: 'b' as BedID, cut: cut as Day, colour: 'c' as ColourID, grade: 'first', length: { lo: 400 as Millimetres, hi: 500 as Millimetres } })
const bench = (cut: string, stems: number) => visitFacts(visitWith({
  id: `v ${cut}` as VisitID, bed: 'b' as BedID, purpose: 'bench', date: cut as Day, counts: [{ ...lot(cut), stems }],
}))
const order = (id: string, due: string, bunches: number) => [
  ...orderFacts({ id: id as OrderID, buyer: 'bu' as BuyerID, due: due as Day, taken: '', note: '' }),
  ...lineFacts({
    id: `line ${id}` as LineID, order: id as OrderID, standing: '', bunch: '', bunches, stems: 10, grade: '', length: 0 as Millimetres, colours: [], whole: false,
    exact: false, price: 0 as Cents,
  }),
]
const packed = (id: string, bunches: number) => [
  ...packedFacts({ id: `p ${id}` as PackedID, line: `line ${id}` as LineID, buyer: 'bu' as BuyerID, due: today, date: today, person: '' }),
  packedCount(`p ${id}` as PackedID, 'bunches', bunches), packedCount(`p ${id}` as PackedID, lotCell(lot('2026-06-01')), bunches * 10),
]

it('a day in the shed is the next one with deliveries, what of it is packed, and what may still be sold', () => {
  const farm = farmSaid(
    order('a', '2026-06-04', 6), order('b', '2026-06-04', 4), order('later', '2026-06-05', 9), order('past', '2026-06-01', 9),
    bench('2026-05-01', 30), bench('2026-05-26', 12), bench('2026-06-01', 100), packed('a', 7),
  )
  expect(shedDay(farm, today)).toEqual({ next: { day: '2026-06-04', deliveries: 2, bunches: 10, packed: 6 }, stems: 42, lastDay: 12 })
})

it.each([
  ['nothing is ordered', [] as ReturnType<typeof order>],
  ['nothing is due within two weeks', order('a', '2026-06-17', 6)],
  ['the order was withdrawn', [...order('a', '2026-06-04', 6), withdrawnFact('order', 'a', true, 'shed')]],
])('no day comes where %s', (_, facts) => {
  expect(shedDay(farmSaid(facts.slice(0, -1), facts.slice(-1)), today)).toEqual({ next: undefined, stems: 0, lastDay: 0 })
})
