// A farm that sells, for tests: bench totals, buyers, lines, what was packed and written off, each in a word.

import type { Fact } from '../../log/change'
import { visitFacts } from '../facts'
import { lotCell } from '../lots'
import type { BedID, ColourID, Day, Millimetres, PersonID, Stage, VisitID } from '../nouns'
import { buyerFacts, claimFacts, lineFacts, orderFacts, packedCount, packedFacts, shrinkFacts } from '../sale_facts'
import type { BuyerID, Cents, Claim, ClaimID, Line, LineID, LotID, OrderID, PackedID, ShrinkID, ShrinkReason } from '../sale_nouns'
import { visitWith } from './nouns'

export const length = { lo: 400 as Millimetres, hi: 500 as Millimetres }

/** "b 2026-06-01": a lot of a bed and day, of ember first. */
export function lotOf(bed: string, cut: string, colour = 'ember'): LotID {
  return { bed: bed as BedID, cut: cut as Day, colour: colour as ColourID, grade: 'first', length }
}

export function benchSaid(id: string, { bed, cut, colour, grade }: LotID, stems: number, told: { stage?: Stage; age?: number; person?: string } = {}): Fact[] {
  return visitFacts(visitWith({
    id: id as VisitID, bed, purpose: 'bench', date: cut, counts: [{ colour, grade, length, stems }], stage: told.stage ?? '', age: told.age ?? 0,
    person: (told.person ?? '') as PersonID | '',
  }))
}

export function buyerSaid(id = 'bu', name = 'Studio Nord'): Fact[] {
  return buyerFacts(id as BuyerID, { name })
}

export function lineWith(told: Partial<Line> = {}): Line {
  return {
    id: 'li' as LineID, order: 'or' as OrderID, standing: '', bunch: '', bunches: 2, stems: 10, grade: 'first', length: 400 as Millimetres, colours: [],
    whole: false, exact: false, price: 520 as Cents, ...told,
  }
}

export function orderSaid(id: string, due: string, lines: readonly Line[], buyer = 'bu'): Fact[] {
  return [...orderFacts({ id: id as OrderID, buyer: buyer as BuyerID, due: due as Day, taken: '', note: '' }), ...lines.flatMap((line) => lineFacts({ ...line, order: id as OrderID }))]
}

export function packedSaid(id: string, line: string, due: string, bunches: number, stems: readonly (readonly [LotID, number])[], buyer = 'bu', person = ''): Fact[] {
  const at = id as PackedID
  return [
    ...packedFacts({ id: at, line: line as LineID, buyer: buyer as BuyerID, due: due as Day, date: due as Day, person: person as PersonID | '' }),
    packedCount(at, 'bunches', bunches), ...stems.map(([lot, n]) => packedCount(at, lotCell(lot), n)),
  ]
}

export function shrinkSaid(id: string, lot: LotID, stems: number, reason: ShrinkReason = 'wilted', date: string = lot.cut): Fact[] {
  return shrinkFacts({ id: id as ShrinkID, lot, stems, reason, what: '', date: date as Day, person: '' })
}

export function claimSaid(id: string, told: Partial<Claim>): Fact[] {
  return claimFacts({
    id: id as ClaimID, line: 'li' as LineID, buyer: 'bu' as BuyerID, due: '2026-06-04' as Day, lot: undefined, stems: 10, reason: 'wilted', back: false,
    credit: 0 as Cents, what: '', date: '2026-06-05' as Day, person: '', ...told,
  })
}
