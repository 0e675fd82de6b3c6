import { describe, expect, it } from 'vitest'
import { lotCell } from '../crop/lots'
import type { Day } from '../crop/nouns'
import type { Cents, Claim, ClaimID } from '../crop/sale_nouns'
import { lotOf, packedSaid } from '../crop/testing/sold'
import { farmSaid } from '../crop/testing/said'
import { type ClaimTyped, claimChanged, claimMade, priceOfStems, typedOf } from './claim'

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
    ['of more than other claims left is none', { stems: '17' }, 'left'],
    ['of all that others left', { stems: '16' }, { stems: 16 }],
    ['with parts of a cent is none', { credit: '5.205' }, 'credit'],
    ['with a credit below nothing is none', { credit: '-5' }, 'credit'],
  ])('%s', (_, told, want) => {
    const made = claimMade({ ...typed, ...told }, packed!, { packed: 20, claimed: 4 }, by)
    if (typeof made === 'string') return expect(made).toBe(want)
    expect(farmSaid([...made.facts]).sales.claims.get(by.id)).toMatchObject(want as object)
    expect(farmSaid([...made.facts], [...made.undo]).sales.claims.size).toBe(0)
  })

  it('of a line of which nobody told the stems may be any number', () => {
    expect(claimMade({ ...typed, stems: '40' }, packed!, { packed: 0, claimed: 0 }, by)).toMatchObject({ stems: 40 })
  })
})

describe('a claim that is written anew', () => {
  const said = claimMade(typed, packed!, { packed: 20, claimed: 0 }, by)
  const facts = typeof said === 'string' ? [] : said.facts
  const before = farmSaid([...facts]).sales.claims.get(by.id)!
  it.each<[string, Partial<ClaimTyped>, boolean, string[] | string]>([
    ['says only what differs', { stems: '4', credit: '2.08' }, false, ['stems', 'cents']],
    ['may lose its lot, its credit and its word', { lot: '', credit: '', what: '' }, false, ['lot', 'what', 'cents']],
    ['says nothing where nothing differs', {}, false, []],
    ['of more stems than are left is none', { stems: '18' }, false, 'left'],
    ['keeps its stems once a note credits it', { stems: '4' }, true, 'noted'],
    ['keeps its amount, too', { credit: '5.21' }, true, 'noted'],
    ['and may still tell another lot and reason', { lot: '', reason: 'short' }, true, ['lot', 'reason']],
  ])('%s', (_, told, noted, want) => {
    const made = claimChanged({ ...typedOf(before), ...told }, before, { packed: 20, claimed: 3 }, noted)
    if (typeof made === 'string') return expect(made).toBe(want)
    expect(made.facts.map(({ field }) => field)).toEqual(want)
    expect(made.facts.every(({ field, scope }) => (field === 'cents') === (scope === 'money'))).toBe(true)
    expect(farmSaid([...facts], [...made.facts], [...made.undo]).sales.claims.get(by.id)).toEqual(before)
  })
})

it.each([[520, 10, 10, 520], [520, 10, 3, 156], [525, 10, 1, 53], [524, 10, 1, 52], [0, 10, 3, undefined], [100, 0, 3, undefined], [100_000_000, 1, 2, undefined]])(
  'at %d cents for %d stems, %d cost %s', (price, stems, n, want) => {
    expect(priceOfStems({ price: price as Cents, stems }, n)).toBe(want)
  })
