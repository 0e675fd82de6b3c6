// What is packed keeps its order, whatever is done to orders, standing orders and buyers.

import { describe, expect, it } from 'vitest'
import type { Deed } from '../crop/deed'
import { dueBetween, dueOf } from '../crop/due'
import type { Day, Farm } from '../crop/nouns'
import { lotCell } from '../crop/lots'
import { knownLine } from '../crop/once_ordered'
import { isOpen, openOf } from '../crop/open_lines'
import { saleLooks } from '../crop/sale_looks'
import { packedCount, packedFacts } from '../crop/sale_facts'
import type { LineID, OrderID, PackedID, StandingID } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import { benchSaid, lotOf } from '../crop/testing/sold'
import type { Fact } from '../log/change'
import { orderAsPacked, stemsAsPacked } from './as_packed'
import { deleteBuyer, deleteBuyerAndOpen } from './buyer_deeds'
import { cancelDelivery, changeFrom, changeStanding, endStanding, mayGoBack, skipDay, withdrawOrder, writeOrder } from './order_deeds'
import { standingLines } from './standing_words'
import { day, ground, lineWith, orderWith, standing, standingWith, studio, written } from './testing/sold'

const today = day('2026-06-08') // a Monday, of the standing order
const [weekly, next] = ['weekly' as StandingID, 'next' as StandingID]
const todays = 'weekly@2026-06-08' as OrderID
const extra = lineWith({ id: 'z' as LineID, order: '', standing: weekly, bunches: 2 })
const order = { head: orderWith({ due: today }), lines: [lineWith(), lineWith({ id: 'other' as LineID, bunches: 2 })] }
const later = { head: standingWith({ id: next, from: today }), lines: [lineWith({ id: 'n' as LineID, order: '', standing: next, bunches: 6 })] }

const twoLines: readonly Fact[] = [...standing, ...writeLines(extra)]
const twoWritten: readonly Fact[] = writeOrder(undefined, order).facts

function writeLines(line: typeof extra): readonly Fact[] {
  return writeOrder(undefined, { head: orderWith(), lines: [line] }).facts.filter(({ type }) => type === 'line')
}

function packed(line: string, bunches: number, due: Day = today): Fact[] {
  const id = `packed ${line}` as PackedID
  return [...packedFacts({ id, line: line as LineID, buyer: studio, due, date: due, person: '' }), packedCount(id, 'bunches', bunches)]
}

/** Deliveries in words: "2026-06-08 of weekly: 4 2". */
function deliveries({ sales }: Farm): string[] {
  return dueBetween(sales, day('2026-06-01'), day('2026-06-16')).map((due) => `${due.day}${due.standing === '' ? '' : ` of ${due.standing}`}: ${due.lines.map(({ bunches }) => bunches).join(' ')}`)
}

/** All that a person sees of orders. */
function seen(farm: Farm): unknown {
  return [deliveries(farm), saleLooks(farm, today), [...farm.sales.buyers.keys()], [...farm.sales.standings.values()].filter(({ id }) => id === weekly)]
}

const before1 = ['2026-06-01 of weekly: 4 2']

describe('what is packed of a delivery stays ordered', () => {
  it.each<[string, readonly Fact[], (farm: Farm) => Deed, readonly string[]]>([
    ['when its standing order ends', twoLines, ({ sales }) => endStanding(sales, sales.standings.get(weekly)!, day('2026-06-07')), [...before1, '2026-06-08: 4 2']],
    ['when its standing order changes from that day on', twoLines, ({ sales }) => changeFrom(sales, sales.standings.get(weekly)!, later), [...before1, '2026-06-08: 4 2', '2026-06-15 of weekly~2026-06-08: 6']],
    [
      'when its standing order, which begins that day, changes as a whole', [...twoLines, { scope: 'shed', op: 'set', type: 'standing', id: weekly, field: 'since', value: today }],
      ({ sales }) => changeStanding(sales, { head: sales.standings.get(weekly)!, lines: standingLines(sales, weekly) }, { head: standingWith({ from: today }), lines: [lineWith({ id: 'template' as LineID, order: '', standing: weekly, bunches: 9 })] }),
      ['2026-06-08: 4 2', '2026-06-15 of weekly: 9'],
    ],
    ['as much as there is, when its day is left out', twoLines, ({ sales }) => cancelDelivery(sales, dueOf(sales, todays)!), [...before1, '2026-06-08: 3', '2026-06-15 of weekly: 4 2']],
    ['as much as there is, when its buyer is deleted with what is due', twoLines, deleteStudio, [...before1, '2026-06-08: 3']],
  ])('%s', (_, ordered, deed, after) => check([...ordered, ...packed('template@2026-06-08', 3)], deed, after))

  it.each<[string, (farm: Farm) => Deed]>([
    ['when the order is withdrawn', ({ sales }) => cancelDelivery(sales, dueOf(sales, 'order' as OrderID)!)],
    ['when its buyer is deleted with what is due', deleteStudio],
  ])('of a written one, as much as there is, %s', (_, deed) => check([...twoWritten, ...packed('line', 3)], deed, ['2026-06-08: 3']))

  it('no more than was ordered, of which too much was packed', () => check([...twoWritten, ...packed('line', 5)], deleteStudio, ['2026-06-08: 4'], 1))
})

function deleteStudio({ sales }: Farm): Deed {
  return deleteBuyerAndOpen(sales, { id: studio }, openOf(sales, today, (id) => id === studio), today)
}

function check(before: readonly Fact[], deed: (farm: Farm) => Deed, after: readonly string[], looks = 0): void {
  const was = farmSaid(ground, before)
  const { facts, undo } = deed(was)
  const now = farmSaid(ground, before, facts)
  expect(deliveries(now)).toEqual(after)
  expect(saleLooks(now, today).length).toBe(looks)
  expect(seen(farmSaid(ground, before, facts, undo)), 'taken back').toEqual(seen(was))
}

it('a buyer who was deleted before is settled in the same way, and comes back when that is taken back', () => {
  const before = [...twoLines, ...twoWritten, ...packed('template@2026-06-08', 1), ...packed('line', 3)]
  const gone = farmSaid(ground, before, deleteBuyer({ id: studio }).facts)
  expect(saleLooks(gone, today).map(({ kind }) => kind)).toEqual(['buyer_gone'])
  const { facts, undo } = deleteStudio(gone)
  const settled = farmSaid(ground, before, deleteBuyer({ id: studio }).facts, facts)
  expect([saleLooks(settled, today), isOpen(openOf(settled.sales, today, (id) => id === studio))]).toEqual([[], false])
  expect(deliveries(settled)).toEqual([...before1, '2026-06-08: 3', '2026-06-08: 1'])
  expect(seen(farmSaid(ground, before, deleteBuyer({ id: studio }).facts, facts, undo))).toEqual(seen(farmSaid(ground, before)))
})

it.each<[string, readonly Fact[], boolean]>([
  ['nothing is packed', [], true],
  ['it has all that is packed', packed('template@2026-06-08', 4), true],
  ['more is packed than it has', packed('template@2026-06-08', 5), false],
  ['something is packed for a line that it has not', packed('own', 1), false],
])('whether a changed delivery may go back to its standing order where %s', (_, said, may) => {
  const changed = writeOrder(undefined, {
    head: orderWith({ id: todays, due: today }),
    lines: [lineWith({ id: 'template@2026-06-08' as LineID, order: todays, bunches: 9 }), lineWith({ id: 'own' as LineID, order: todays })],
  }).facts
  const { sales } = farmSaid(ground, [...standing, ...changed, ...said])
  expect(mayGoBack(sales, dueOf(sales, todays)!)).toBe(may)
})

describe('what is packed and not ordered can be ordered', () => {
  const all = (farm: Farm, id: string) => withdrawOrder(dueOf(farm.sales, id as OrderID)!).facts
  const changed8 = writeOrder(undefined, { head: orderWith({ id: todays, due: today }), lines: [lineWith({ id: 'own' as LineID, order: todays })] }).facts
  it.each<[string, string, readonly Fact[], (farm: Farm) => readonly Fact[], readonly string[]]>([
    ['where more was packed than ordered', 'line', [...twoWritten, ...packed('line', 5)], () => [], ['2026-06-08: 5 2']],
    ['of a standing order’s delivery, which leaves the standing order as it is', 'template@2026-06-08', [...twoLines, ...packed('template@2026-06-08', 5)], () => [], [...before1, '2026-06-08: 5 2', '2026-06-15 of weekly: 4 2']],
    ['where the line was taken out', 'line', [...twoWritten, ...packed('line', 3)], () => [{ scope: 'shed', op: 'set', type: 'line', id: 'line', field: 'withdrawn', value: 1 }], ['2026-06-08: 3 2']],
    ['where the order was withdrawn', 'line', [...twoWritten, ...packed('line', 3)], (farm) => all(farm, 'order'), ['2026-06-08: 3']],
    ['where the order was withdrawn without its lines', 'line', [...twoWritten, ...packed('line', 3)], (farm) => all(farm, 'order').filter(({ type }) => type === 'order'), ['2026-06-08: 3']],
    ['where the standing order ended without its being known', 'template@2026-06-08', [...twoLines, ...packed('template@2026-06-08', 3)], (farm) => endStanding({ ...farm.sales, packedOf: new Map() }, farm.sales.standings.get(weekly)!, day('2026-06-07')).facts, [...before1, '2026-06-08: 3']],
    ['where the day was left out without its being known', 'z@2026-06-08', [...twoLines, ...packed('z@2026-06-08', 1)], () => skipDay(weekly, today, true).facts, [...before1, '2026-06-08: 1', '2026-06-15 of weekly: 4 2']],
    ['where the order gave way to its standing order again', 'own', [...twoLines, ...changed8, ...packed('own', 1)], (farm) => all(farm, todays), [...before1, '2026-06-08: 1 4 2', '2026-06-15 of weekly: 4 2']],
  ])('%s', (_, line, before, since, after) => {
    const gone = since(farmSaid(ground, before))
    const was = farmSaid(ground, before, gone)
    expect(saleLooks(was, today).map(({ kind }) => kind)).toEqual(['over_packed'])
    const deed = orderAsPacked(was.sales, line as LineID)!
    const now = farmSaid(ground, before, gone, deed.facts)
    expect(saleLooks(now, today)).toEqual([])
    expect(deliveries(now)).toEqual(after)
    const back = farmSaid(ground, before, gone, deed.facts, deed.undo)
    expect(seen(back), 'taken back').toEqual(seen(was))
    expect(knownLine(back.sales, line as LineID), 'and told as before').toEqual(knownLine(was.sales, line as LineID))
  })

  it('but not of a line that this device never heard of', () => {
    expect(orderAsPacked(farmSaid(ground, packed('unheard', 1)).sales, 'unheard' as LineID)).toBeUndefined()
  })

  it('and not of an order that stands, which is left alone', () => {
    expect(saleLooks(farmSaid(ground, written, packed('line', 4)), today)).toEqual([])
  })
})

describe('a line whose bunches became larger where nobody knew that they were packed', () => {
  const lot = lotOf('b', '2026-06-05')
  const packedOf = (line: string, stems: number) => [...benchSaid('v', lot, 100), ...packed(line, 3), packedCount(`packed ${line}` as PackedID, lotCell(lot), stems)]
  const larger = (id: string): Fact => ({ scope: 'shed', op: 'set', type: 'line', id, field: 'stems', value: 20 })
  it.each<[string, readonly Fact[], string, string]>([
    ['of an order', twoWritten, 'line', 'line'],
    ['of a standing order', twoLines, 'template', 'template@2026-06-08'],
  ])('%s, is settled as it was packed', (_, ordered, changed, line) => {
    const said = [...ordered, ...packedOf(line, 30), larger(changed)]
    const wrong = farmSaid(ground, said)
    expect(saleLooks(wrong, today)).toEqual([{ kind: 'other_stems', line, bunches: 3, stems: 30, each: 20 }])
    const { facts, undo } = stemsAsPacked(wrong.sales, line as LineID)!
    const settled = farmSaid(ground, said, facts)
    expect(saleLooks(settled, today)).toEqual([])
    expect(dueBetween(settled.sales, today, today).flatMap((due) => due.lines).find(({ id }) => id === line)?.stems).toBe(10)
    expect(saleLooks(farmSaid(ground, said, facts, undo), today)).toEqual(saleLooks(wrong, today))
  })

  it('is not, where those are no whole number a bunch', () => {
    expect(stemsAsPacked(farmSaid(ground, [...twoWritten, ...packedOf('line', 29)]).sales, 'line' as LineID)).toBeUndefined()
  })
})
