import { describe, expect, it } from 'vitest'
import { lotCell } from '../crop/lots'
import type { Day } from '../crop/nouns'
import type { Cents, Claim, ClaimID } from '../crop/sale_nouns'
import { lotOf, packedSaid } from '../crop/testing/sold'
import { farmSaid } from '../crop/testing/said'
import { type ClaimTyped, claimMade, priceOfStems } from './claim'

const due = '2026-06-04' as Day
const lot = lotOf('b', '2026-06-01')
const packing = packedSaid('pa', 'li', due, 2, [[lot, 20]])
const [packed] = farmSaid(packing).sales.packed.values()
const typed: ClaimTyped = { stems: '10', reason: 'wilted', lot: lotCell(lot), back: true, credit: '5.20', what: ' on the table ' }
const by = { id: 'cl' as ClaimID, date: '2026-06-05' as Day, person: '' as const }

describe('a claim as it is typed', () => {
  it.each<[string, Partial<ClaimTyped>, Partial<Claim> | string]>([
    ['of a lot, with what is credited', {}, { stems: 10, lot, back: true, credit: 520 as Cents, what: 'on the table', due, line: 'li' as never, buyer: 'bu' as never }],
    ['without a credit', { credit: '' }, { credit: 0 as Cents }],
    ['of a lot that nobody knows', { lot: '' }, { lot: undefined }],
    ['of no stems is none', { stems: '0' }, 'stems'],
    ['of what is no number is none', { stems: 'ten' }, 'stems'],
    ['of more stems than were packed is none', { stems: '21' }, 'too_many'],
    ['with parts of a cent is none', { credit: '5.205' }, 'credit'],
    ['with a credit below nothing is none', { credit: '-5' }, 'credit'],
  ])('%s', (_, told, want) => {
    const made = claimMade({ ...typed, ...told }, packed!, 20, by)
    if (typeof made === 'string') return expect(made).toBe(want)
    expect(farmSaid([...made.facts]).sales.claims.get(by.id)).toMatchObject(want as object)
    expect(farmSaid([...made.facts], [...made.undo]).sales.claims.size).toBe(0)
  })

  it('of a line of which nobody told the stems may be any number', () => {
    expect(claimMade({ ...typed, stems: '40' }, packed!, 0, by)).toMatchObject({ stems: 40 })
  })
})

it.each([[520, 10, 10, 520], [520, 10, 3, 156], [525, 10, 1, 53], [524, 10, 1, 52], [0, 10, 3, undefined], [100, 0, 3, undefined], [100_000_000, 1, 2, undefined]])(
  'at %d cents for %d stems, %d cost %s', (price, stems, n, want) => {
    expect(priceOfStems({ price: price as Cents, stems }, n)).toBe(want)
  })
