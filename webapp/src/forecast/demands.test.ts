import { describe, expect, it } from 'vitest'
import { addDays } from '../crop/day'
import type { Day } from '../crop/nouns'
import type { Line, LineID, Order, OrderID, Packed, PackedID, Sales, StandingID, StandingOrder, Weekdays } from '../crop/sale_nouns'
import { buyer, day, type LineTold, salesOf } from '../crop/testing/cutting'
import { cutFor, demandsAsTaken, demandsByDay } from './demands'

const last = addDays(day, 60)
const terms = { coolerDays: 5 }
const sales = (lines: readonly LineTold[], packed: readonly Packed[] = []) => salesOf({ lines, packed, terms })

function packed(bunches: number, date: Day): Packed {
  return { id: 'k' as PackedID, line: 'l0' as LineID, buyer, due: day, date, person: '', bunches, stems: new Map() }
}

describe('promises by day', () => {
  it('may be cut on their day or before it, as long as the farm keeps stems', () => {
    expect(demandsByDay(sales([{ stems: 5, due: '2026-06-10' }]), day, last)).toMatchObject([{ from: '2026-06-05', to: '2026-06-10', stems: 5 }])
    expect(cutFor(sales([]).terms, '2026-06-10' as Day)).toEqual({ from: '2026-06-05', to: '2026-06-10' })
  })

  it('that are overdue are still cut for today, until nobody waits for them', () => {
    const due = (days: number) => demandsByDay(sales([{ stems: 5, due: addDays(day, -days) }]), day, last).map(({ to }) => to)
    expect([due(1), due(5), due(6)]).toEqual([[day], [day], []])
  })

  it('lack what is not packed', () => {
    const lacking = (bunches: number, date = day) => demandsByDay(sales([{ stems: 10, bunches: 3, due: day }], [packed(bunches, date)]), day, last).map(({ stems }) => stems)
    expect([lacking(0), lacking(1), lacking(2, addDays(day, -1)), lacking(3)]).toEqual([[30], [20], [10], []])
  })

  it('of the same stems are one, also where their colours are told in another order', () => {
    const found = demandsByDay(sales([{ stems: 5, colours: 'ember coral' }, { stems: 6, colours: 'coral ember' }, { stems: 7, colours: 'coral' }]), day, last)
    expect(found.map(({ stems, lines }) => [stems, lines.length])).toEqual([[11, 2], [7, 1]])
  })
})

describe('promises as they were given', () => {
  const template = 'weekly' as StandingID
  const standing: StandingOrder = { id: template, buyer, from: '2026-02-03' as Day, until: '', days: '3' as Weekdays, every: 1, skips: [], note: '' }

  /** An order of March, and a Wednesday of a standing order of February, changed by hand where it is so. */
  function withStanding(byHand: boolean): Sales {
    const found = sales([{ stems: 5, due: day }])
    const march: Order = { ...found.orders.get('o0' as OrderID)!, taken: '2026-03-01' as Day }
    const line = { ...found.lines.get('l0' as LineID)!, id: 'of' as LineID, order: '', standing: template, bunches: 9 } as Line
    const hand: Order = { id: `weekly@${day}` as OrderID, buyer, due: day, taken: '', note: '' }
    const own: Line = { ...line, id: `of@${day}` as LineID, order: hand.id, standing: '' }
    return {
      ...found, standings: new Map([[template, { ...standing, until: day }]]), orders: new Map([march, ...byHand ? [hand] : []].map((one) => [one.id, one])),
      ordersDue: new Map([[day, new Set([march.id, ...byHand ? [hand.id] : []])]]), lines: new Map([...found.lines, [line.id, line], [own.id, own]]),
      linesOf: new Map([...found.linesOf, [template, new Set([line.id])], [hand.id, new Set([own.id])]]),
    } as Sales
  }

  it.each([false, true])('go by the standing order on its days, changed by hand or not (%s)', (byHand) => {
    const january = (all: Sales): Sales => ({ ...all, orders: new Map([...all.orders].map(([id, one]) => [id, one.taken === '' ? one : { ...one, taken: '2026-01-01' as Day }])) })
    const order = (all: Sales) => demandsAsTaken(all, day, last).map(({ lines }) => lines[0])
    expect(order(withStanding(byHand))).toEqual([`of@${day}`, 'l0'])
    expect(order(january(withStanding(byHand)))).toEqual(['l0', `of@${day}`])
  })
})
