import { describe, expect, it } from 'vitest'
import { billedLines, chargedFor, claimsUnlikeNotes, creditedOf, noteOfClaim, notesOfClaim, notesWithoutClaim, overBilled } from './billed'
import { overClaimed, stemsClaimed } from './claimed'
import { withdrawnFact } from './facts'
import { stemsPacked } from './over_packed'
import type { ClaimID, InvoiceID, LineID } from './sale_nouns'
import { invoiceSaid } from './testing/billed'
import { farmSaid } from './testing/said'
import { claimSaid, lotOf, packedSaid } from './testing/sold'

const line = 'li' as LineID
const due = '2026-06-04'
const of = (bunches: number, cents = bunches * 520) => [{ line, bunches, cents: cents as never }]
const packed = (bunches: number) => packedSaid('pa', 'li', due, bunches, [[lotOf('b', '2026-06-01'), bunches * 10]])
const credits = '1' as InvoiceID
const claimNote = (cents: number, id = '2') => invoiceSaid(id, [{ line, cents: cents as never }], { credits, claim: 'cl' as ClaimID })
const missing = claimSaid('cl', { reason: 'missing' })

describe('what of a line stands on invoices', () => {
  it('is charged after discounts, and not where a bill is void', () => {
    const other = { line: 'other' as LineID, bunches: 1, stems: 10, cents: 1040 as never }
    const stems = (bunches: number) => of(bunches).map((row) => ({ ...row, stems: 10 }))
    const said = [invoiceSaid('1', [...stems(2), other, { cents: -208 as never }]), invoiceSaid('2', stems(1)), invoiceSaid('3', stems(4), { void: '2026-06-05' as never }), invoiceSaid('4', of(1, -520), { credits: '2' as InvoiceID })]
    expect(chargedFor(farmSaid(...said).sales, line)).toEqual({ price: 1040 - 104 + 520, stems: 30 })
    expect(chargedFor(farmSaid().sales, line).stems).toBe(0)
  })

  it.each([
    ['is what all of them bill', [invoiceSaid('1', of(2)), invoiceSaid('2', of(1))], { bunches: 3, invoices: ['1', '2'] }],
    ['is nothing of one that is void, nor of its notes', [invoiceSaid('1', of(4), { void: '2026-06-05' as never }), invoiceSaid('2', of(4), { credits })], undefined],
    ['is less by what a note took back', [invoiceSaid('2', of(1, -520), { credits }), invoiceSaid('1', of(3))], { bunches: 2, invoices: ['1'] }],
    ['is no less by a claim’s note', [invoiceSaid('1', of(3)), invoiceSaid('2', [{ line, cents: -260 as never }], { credits })], { bunches: 3, invoices: ['1'] }],
  ])('%s', (_, said, want) => {
    const found = billedLines(farmSaid(...said).sales).get(line)
    expect(found && { bunches: found.bunches, invoices: [...found.on.keys()] }).toEqual(want)
  })

  it.each([
    ['as many as are packed', [invoiceSaid('1', of(2)), packed(2)], []],
    ['fewer than are packed', [invoiceSaid('1', of(1)), packed(2)], []],
    ['more than are packed', [invoiceSaid('1', of(3)), packed(2)], [{ line, billed: 3, packed: 2, missing: 0, invoice: '1' }]],
    ['more, on two invoices', [invoiceSaid('1', of(2)), invoiceSaid('2', of(1)), packed(1)], [{ line, billed: 3, packed: 1, missing: 0, invoice: '2' }]],
    ['more, and the newest was credited', [invoiceSaid('1', of(2)), invoiceSaid('2', of(1)), invoiceSaid('3', of(1, -520), { credits: '2' as InvoiceID }), packed(1)], [{ line, billed: 2, packed: 1, missing: 0, invoice: '1' }]],
    ['more, and all of it was credited', [invoiceSaid('1', of(3)), invoiceSaid('2', of(1, -520), { credits }), packed(2)], []],
    ['more, and a claim was credited all of it', [invoiceSaid('1', of(3)), claimNote(-1560)], []],
    ['more, and all of it was credited as missing', [invoiceSaid('1', of(3)), claimNote(-1560), missing], []],
    ['more by one, which was credited as missing', [invoiceSaid('1', of(3)), claimNote(-520), missing, packed(2)], []],
    ['more by two, of which one was credited as missing', [invoiceSaid('1', of(3)), claimNote(-520), missing, packed(1)], [{ line, billed: 3, packed: 1, missing: 1, invoice: '1' }]],
    ['more by one, of which half was credited as missing', [invoiceSaid('1', of(3)), claimNote(-260), missing, packed(2)], [{ line, billed: 3, packed: 2, missing: 0, invoice: '1' }]],
    ['more by one, and another was credited as wilted', [invoiceSaid('1', of(3)), claimNote(-520), claimSaid('cl', { reason: 'wilted' }), packed(2)], [{ line, billed: 3, packed: 2, missing: 0, invoice: '1' }]],
    ['more, on one that is void', [invoiceSaid('1', of(3), { void: '2026-06-05' as never }), packed(2)], []],
  ])('billed are %s', (_, said, want) => {
    expect(overBilled(farmSaid(...said).sales)).toEqual(want)
  })
})

describe('a claim’s note', () => {
  const note = invoiceSaid('2', [{ line, cents: -260 as never }], { credits, claim: 'cl' as ClaimID })
  it.each([
    ['stands with its claim', [invoiceSaid('1', of(2)), note, claimSaid('cl', {})], '2', []],
    ['is left where the claim was taken away', [invoiceSaid('1', of(2)), note, claimSaid('cl', {}), [withdrawnFact('claim', 'cl', true, 'shed')]], '2', ['2']],
    ['is gone with a void invoice', [invoiceSaid('1', of(2), { void: '2026-06-05' as never }), note], undefined, []],
  ])('%s', (_, said, number, left) => {
    const { sales } = farmSaid(...said)
    expect(noteOfClaim(sales, 'cl' as ClaimID)?.number).toBe(number)
    expect(notesWithoutClaim(sales, line).map(({ id }) => id)).toEqual(left)
    expect(notesWithoutClaim(sales, 'other' as LineID)).toEqual([])
  })
})

it.each([
  ['says what its note gave', 300, []],
  ['was raised elsewhere after its note was made', 800, ['cl']],
  ['was lowered elsewhere', 200, ['cl']],
])('a claim that %s', (_, credit, want) => {
  const { sales } = farmSaid(invoiceSaid('1', of(3)), claimNote(-300), claimSaid('cl', { credit: credit as never }))
  expect(claimsUnlikeNotes(sales).map(({ id }) => id)).toEqual(want)
})

it('an invoice keeps what its paper said, and a note its tax; of older ones both are worked out', () => {
  const kept = [['buyer_name', 'Studio Nord'], ['address', 'Hafen 1'], ['seller', 'Hof Ost'], ['tax_name', 'USt.'], ['tax', -73]] as const
  const said = kept.map(([field, value]) => ({ scope: 'money', op: 'set', type: 'invoice', id: '1', field, value }) as const)
  const { sales } = farmSaid(invoiceSaid('1', of(3)), said, invoiceSaid('2', of(1)))
  expect(sales.invoices.get('1' as InvoiceID)).toMatchObject({ tax: -73, head: { buyerName: 'Studio Nord', address: 'Hafen 1', seller: 'Hof Ost', taxName: 'USt.' } })
  expect(sales.invoices.get('2' as InvoiceID)).toMatchObject({ tax: undefined, head: undefined })
})

it('what notes credit of a claim adds up, whatever it says now', () => {
  const { sales } = farmSaid(invoiceSaid('1', of(3)), claimNote(-300), claimNote(-500, '3'), claimSaid('cl', { credit: 900 as never }))
  expect(creditedOf(sales, 'cl' as ClaimID)).toBe(800)
  expect(notesOfClaim(sales, 'cl' as ClaimID).map(({ number }) => number)).toEqual(['2', '3'])
  expect(creditedOf(sales, 'other' as ClaimID)).toBe(0)
})

it('claims of a line add up against the stems that were packed for it', () => {
  const { sales } = farmSaid(packed(2), claimSaid('a', { stems: 15 }), claimSaid('b', { stems: 6 }))
  expect([stemsPacked(sales, line), stemsClaimed(sales, line), stemsClaimed(sales, line, 'b' as ClaimID)]).toEqual([20, 21, 15])
  expect(overClaimed(sales)).toEqual([{ line, claimed: 21, packed: 20 }])
  expect(overClaimed(farmSaid(packed(2), claimSaid('a', { stems: 20 })).sales)).toEqual([])
  expect(overClaimed(farmSaid(claimSaid('a', { stems: 20 })).sales)).toEqual([])
})
