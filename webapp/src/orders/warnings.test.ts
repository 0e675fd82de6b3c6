import { describe, expect, it } from 'vitest'
import { withdrawnFact } from '../crop/facts'
import type { ColourID, Day, Grade } from '../crop/nouns'
import { buyerFacts } from '../crop/sale_facts'
import type { BuyerID, Cents, Line } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import { channel, corner, day, ground, lineWith, studio } from './testing/sold'
import { totalOf } from './totals'
import { floorsAboveAll, lineWarnings, orderWarnings, wasLate } from './warnings'

const { sales } = farmSaid([...ground, ...buyerFacts('stray' as BuyerID, { name: 'Stray' })], [withdrawnFact('buyer', corner, true, 'shed')])
const at = (moment: string) => new Date(moment).getTime()

describe('an order is warned of', () => {
  it.each<[string, string, string, string, string[]]>([
    ['not at all before the cut-off on a day of the channel', 'studio', '2026-06-04', '2026-06-02T18:00:00', []],
    ['after the cut-off', 'studio', '2026-06-04', '2026-06-02T18:01:00', ['late']],
    ['on a day on which nothing is delivered', 'studio', '2026-06-05', '2026-06-01T08:00:00', ['weekday']],
    ['in the past, and of no cut-off then', 'studio', '2026-05-28', '2026-06-01T08:00:00', ['past']],
    ['with everything at once', 'studio', '2026-06-03', '2026-06-03T08:00:00', ['late', 'weekday']],
    ['of a buyer without a channel', 'stray', '2026-06-04', '2026-06-01T08:00:00', ['no_channel']],
    ['of a deleted buyer', 'corner', '2026-06-04', '2026-06-01T08:00:00', ['gone']],
  ])('%s', (_, buyer, due, now, kinds) => {
    expect(orderWarnings(sales, buyer as BuyerID, due as Day, now.slice(0, 10) as Day, at(now)).map(({ kind }) => kind)).toEqual(kinds)
  })

  it.each([['2026-06-02', false], ['2026-06-03', true], ['', false]])('that was taken on "%s" for the 4th: late is %s', (taken, late) => {
    expect(wasLate(channel, { due: day('2026-06-04'), taken: taken as Day })).toBe(late)
  })
})

describe('a line is warned of', () => {
  it.each<[string, Partial<Line>, unknown[]]>([
    ['not at all at the floor', { price: 500 as Cents }, []],
    ['a cent below the floor, with both amounts', { price: 499 as Cents }, [{ kind: 'floor', price: 499, floor: 50, stems: 10, grade: 'first' }]],
    ['by the list’s price where none is agreed', { price: 0 as Cents, colours: ['garnet' as ColourID] }, [{ kind: 'floor', price: 480, floor: 50, stems: 10, grade: 'first' }]],
    ['not by a floor of another grade', { price: 10 as Cents, grade: 'extra' }, []],
    ['without a price', { price: 0 as Cents, bunch: '' }, [{ kind: 'unpriced' }]],
    ['whose colours have several prices', { price: 0 as Cents, colours: ['garnet', 'ember'] as ColourID[], stems: 9 }, [{ kind: 'several', cents: 480 }]],
    ['of a bunch whose price a stem has parts of a cent', { price: 583 as Cents, stems: 12 }, [{ kind: 'floor', price: 583, floor: 50, stems: 12, grade: 'first' }]],
  ])('%s', (_, part, found) => expect(lineWarnings(sales, studio, lineWith(part), day('2026-06-04'))).toEqual(found))
})

describe('a floor above every price', () => {
  it.each<[string, Grade, number, unknown[]]>([
    ['is told with the best price', 'first', 57, [['first', 57, 560]]], ['is not where one price reaches it', 'first', 56, []],
    ['is told of a better grade, which may stand in', 'extra', 90, [['extra', 90, 560]]], ['is not told of a lesser, for which there is no price', 'second', 90, []],
  ])('%s', (_, grade, cents, found) => {
    expect(floorsAboveAll(sales, { ...channel, floor: new Map([[grade, cents as Cents]]) }).map(({ grade: of, floor, best }) => [of, floor, best.cents])).toEqual(found)
  })
})

describe('a delivery comes to', () => {
  const total = (lines: readonly Line[]) => totalOf(sales, { buyer: studio, day: day('2026-06-04'), lines })
  it('its bunches, stems, price and the fee that the buyer pays', () => {
    expect(total([lineWith(), lineWith({ price: 0 as Cents, bunches: 1 }), lineWith({ bunch: '', price: 0 as Cents, bunches: 1 })]))
      .toEqual({ bunches: 6, stems: 60, cents: 4 * 520 + 560 + 600, fee: 600, kept: 330, unpriced: 1 })
  })
})
