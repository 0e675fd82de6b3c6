import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { stillDue } from './due_ahead'
import { withdrawnFact } from './facts'
import type { Day } from './nouns'
import { lineFacts, orderFacts, standingFacts } from './sale_facts'
import { type SaleLook, saleLooks } from './sale_looks'
import type { BuyerID, ClaimID, InvoiceID, LineID, OrderID, StandingID, StandingOrder, Weekdays } from './sale_nouns'
import { invoiceSaid } from './testing/billed'
import { benchSaid, buyerSaid, claimSaid, lineWith, lotOf, orderSaid, packedSaid, shrinkSaid } from './testing/sold'
import { farmSaid } from './testing/said'

const today = '2026-06-04' as Day // a Thursday
const lot = lotOf('b', '2026-06-01')
const standing: Omit<StandingOrder, 'skips'> = { id: 'st' as StandingID, buyer: 'bu' as BuyerID, from: '2026-05-01' as Day, until: '', days: '4' as Weekdays, every: 1, note: '' }
const weekly = [...standingFacts(standing), ...lineFacts({ ...lineWith({ id: 'sl' as LineID, order: '', standing: standing.id }) })]
const line = 'li' as LineID
const gone = [withdrawnFact('buyer', 'bu', true, 'shed')]
const order = orderSaid('or', today, [lineWith()])

/** Of looks what a table can hold. */
function told(looks: readonly SaleLook[]): unknown[] {
  return looks.map((look) => {
    if (look.kind === 'oversold') return [look.kind, look.lot.split('|')[1], look.came - look.packed - look.shrink]
    if (look.kind === 'over_packed') return [look.kind, look.line, look.ordered, look.packed]
    if (look.kind === 'other_stems') return [look.kind, look.line, look.bunches, look.stems, look.each]
    if (look.kind === 'comes_twice') return [look.kind, look.earlier.id, look.later.id]
    if (look.kind === 'over_billed') return [look.kind, look.line, look.billed, look.packed]
    if (look.kind === 'over_claimed') return [look.kind, look.line, look.claimed, look.packed]
    if (look.kind === 'claim_gone') return [look.kind, look.claim, look.note.number]
    if (look.kind === 'claim_differs') return [look.kind, look.claim.id, look.claim.credit]
    return [look.kind, look.buyer.id, look.open.dues.length, look.open.standings.length, look.open.next]
  })
}

describe('needs a look', () => {
  it.each<[string, Fact[][], unknown[]]>([
    ['nothing where as much was packed as came and was ordered', [buyerSaid(), order, benchSaid('v', lot, 20), packedSaid('pa', 'li', today, 2, [[lot, 20]])], []],
    ['a lot that two tablets packed', [benchSaid('v', lot, 20), packedSaid('pa', 'lx', today, 0, [[lot, 20]]), packedSaid('pb', 'ly', today, 0, [[lot, 10]])], [['oversold', '2026-06-01', -10]]],
    ['a lot of which more was written off than is left', [benchSaid('v', lot, 20), shrinkSaid('sh', lot, 25)], [['oversold', '2026-06-01', -5]]],
    ['a line of which two tablets packed more than ordered', [order, packedSaid('pa', 'li', today, 2, []), packedSaid('pb', 'li', today, 1, [])], [['over_packed', 'li', 2, 3]]],
    ['a line packed of which an order was taken back', [order, packedSaid('pa', 'li', today, 1, []), [withdrawnFact('line', 'li', true, 'shed')]], [['over_packed', 'li', 0, 1]]],
    ['a standing order’s delivery, too', [weekly, packedSaid('pa', 'sl@2026-06-04', today, 3, [])], [['over_packed', 'sl@2026-06-04', 2, 3]]],
    ['and one of long ago, since nobody else would ask about it', [weekly, packedSaid('pa', 'sl@2026-05-21', '2026-05-21', 3, [])], [['over_packed', 'sl@2026-05-21', 2, 3]]],
    ['a line packed whose order was taken back without it', [order, packedSaid('pa', 'li', today, 1, []), [withdrawnFact('order', 'or', true, 'shed')]], [['over_packed', 'li', 0, 1]]],
    ['a delivery packed of a standing order that ended before it', [weekly, packedSaid('pa', 'sl@2026-06-04', today, 1, []), standingFacts({ ...standing, until: '2026-06-03' as Day })], [['over_packed', 'sl@2026-06-04', 0, 1]]],
    ['a line whose bunches have other stems than when they were packed', [order, benchSaid('v', lot, 30), packedSaid('pa', 'li', today, 2, [[lot, 20]]), lineFacts(lineWith({ stems: 15 }))], [['other_stems', 'li', 2, 20, 15]]],
    ['a standing order’s, too', [weekly, benchSaid('v', lot, 30), packedSaid('pa', 'sl@2026-06-04', today, 2, [[lot, 30]])], [['other_stems', 'sl@2026-06-04', 2, 30, 10]]],
    ['none where nobody told of which lots', [order, packedSaid('pa', 'li', today, 2, [])], []],
    ['bunches that were billed and taken back', [order, packedSaid('pa', 'li', today, 1, []), invoiceSaid('1', [{ line, bunches: 2, cents: 1040 as never }])], [['over_billed', 'li', 2, 1]]],
    ['not those that a note took back', [order, packedSaid('pa', 'li', today, 1, []), invoiceSaid('1', [{ line, bunches: 2 }]), invoiceSaid('2', [{ line, bunches: 1 }], { credits: '1' as InvoiceID })], []],
    ['claims of more stems than were packed', [order, packedSaid('pa', 'li', today, 2, [[lot, 20]]), benchSaid('v', lot, 20), claimSaid('c', { stems: 11 }), claimSaid('d', {})], [['over_claimed', 'li', 21, 20]]],
    ['a claim taken away that a note credits', [order, invoiceSaid('1', [{ line }]), invoiceSaid('2', [{ line }], { credits: '1' as InvoiceID, claim: 'c' as ClaimID })], [['claim_gone', 'c', '2']]],
    ['a claim raised elsewhere after its note was made', [order, invoiceSaid('1', [{ line }]), invoiceSaid('2', [{ line, cents: -300 as never }], { credits: '1' as InvoiceID, claim: 'c' as ClaimID }), claimSaid('c', { credit: 800 as never })], [['claim_differs', 'c', 800]]],
    ['an order still due of a deleted buyer', [buyerSaid(), order, gone], [['buyer_gone', 'bu', 1, 0, today]]],
    ['not one that is packed', [buyerSaid(), order, packedSaid('pa', 'li', today, 2, []), gone], []],
    ['not one of yesterday', [buyerSaid(), orderSaid('or', '2026-06-03', [lineWith()]), gone], []],
    ['a standing order that goes on for a deleted buyer', [buyerSaid(), weekly, gone], [['buyer_gone', 'bu', 0, 1, today]]],
    ['nothing of a buyer who is there', [buyerSaid(), order, weekly], []],
  ])('%s', (_, said, want) => {
    expect(told(saleLooks(farmSaid(...said), today))).toEqual(want)
  })
})

it('what is still due is told by day with what is overdue, less what is packed, and never below nothing', () => {
  const { sales } = farmSaid(
    buyerSaid(), order, orderFacts({ id: 'o2' as OrderID, buyer: 'bu' as BuyerID, due: '2026-06-05' as Day, taken: '', note: '' }),
    lineFacts(lineWith({ id: 'a' as LineID, order: 'o2' as OrderID, bunches: 5 })), lineFacts(lineWith({ id: 'b' as LineID, order: 'o2' as OrderID, bunches: 1 })),
    packedSaid('pa', 'a', '2026-06-05', 2, []), packedSaid('pb', 'b', '2026-06-05', 4, []), packedSaid('pc', 'li', today, 2, []),
    orderSaid('late', '2026-06-03', [lineWith({ id: 'late' as LineID })]),
  )
  expect(stillDue(sales, today, '2026-06-07' as Day)).toEqual([{ day: '2026-06-03', stems: 20, deliveries: 1 }, { day: '2026-06-05', stems: 30, deliveries: 1 }])
})
