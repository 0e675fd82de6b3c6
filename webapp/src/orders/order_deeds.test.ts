import { describe, expect, it } from 'vitest'
import type { Deed } from '../crop/deed'
import { dueBetween, dueOf } from '../crop/due'
import type { Farm } from '../crop/nouns'
import { openOf } from '../crop/open_lines'
import { lineFacts, orderFacts } from '../crop/sale_facts'
import { saleLooks } from '../crop/sale_looks'
import type { BunchID, Cents, LineID, OrderID, StandingID, Weekdays } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import { deleteBuyer, deleteBuyerAndOpen } from './buyer_deeds'
import { cancelDelivery, changeFrom, endStanding, skipDay, standingBehind, withdrawOrder, writeOrder, writeStanding } from './order_deeds'
import { corner, day, ground, lineWith, orderWith, standing, standingWith, studio, written } from './testing/sold'

const from = day('2026-06-01')
const to = day('2026-06-30')

/** Deliveries in words: "2026-06-04 Studio Nord: 4, 2". */
function deliveries({ sales }: Farm): string[] {
  return dueBetween(sales, from, to).map((due) => `${due.day}${due.standing === '' ? '' : ' again'}: ${due.lines.map((line) => line.bunches).join()}`)
}

interface Case {
  readonly before: readonly Fact[]
  readonly deed: (farm: Farm) => Deed
  readonly after: readonly string[]
  /** Makes something under an id that no second deed would have. */
  readonly makes?: true
}

const at8 = 'weekly@2026-06-08' as OrderID
const changed8 = { head: orderWith({ id: at8, due: day('2026-06-08') }), lines: [lineWith({ id: 'template@2026-06-08' as LineID, order: at8, bunches: 9 })] }
const mondays = ['2026-06-01 again: 4', '2026-06-08 again: 4', '2026-06-15 again: 4', '2026-06-22 again: 4', '2026-06-29 again: 4']
const without = (...days: string[]) => mondays.filter((one) => !days.some((day8) => one.startsWith(day8)))
const due = (farm: Farm, id: string) => dueOf(farm.sales, id as OrderID)!

const cases: Record<string, Case> = {
  'taking an order': { makes: true, before: [], deed: () => writeOrder(undefined, { head: orderWith(), lines: [lineWith()] }), after: ['2026-06-04: 4'] },
  'changing a line': { before: written, deed: () => writeOrder({ head: orderWith(), lines: [lineWith()] }, { head: orderWith(), lines: [lineWith({ bunches: 7 })] }), after: ['2026-06-04: 7'] },
  'taking a line out and another in': {
    makes: true, before: written, deed: () => writeOrder({ head: orderWith(), lines: [lineWith()] }, { head: orderWith(), lines: [lineWith({ id: 'other' as LineID, bunches: 2 })] }), after: ['2026-06-04: 2'],
  },
  'moving an order to another day': { before: written, deed: () => writeOrder({ head: orderWith(), lines: [lineWith()] }, { head: orderWith({ due: day('2026-06-05') }), lines: [lineWith()] }), after: ['2026-06-05: 4'] },
  'withdrawing an order': { before: written, deed: (farm) => cancelDelivery(farm.sales, due(farm, 'order')), after: [] },
  'changing one delivery of a standing order': { before: standing, deed: () => writeOrder(undefined, changed8), after: [...without('2026-06-08', '2026-06-15', '2026-06-22', '2026-06-29'), '2026-06-08: 9', ...mondays.slice(2)] },
  'leaving a day of it out': { before: standing, deed: () => skipDay('weekly' as StandingID, day('2026-06-08'), true), after: without('2026-06-08') },
  'leaving out a day that is not written': { before: standing, deed: (farm) => cancelDelivery(farm.sales, due(farm, at8)), after: without('2026-06-08') },
  'leaving out a day that was changed': {
    before: [...standing, ...writeOrder(undefined, changed8).facts], deed: (farm) => cancelDelivery(farm.sales, due(farm, at8)), after: without('2026-06-08'),
  },
  'going back to the standing order': { before: [...standing, ...writeOrder(undefined, changed8).facts], deed: (farm) => withdrawOrder(due(farm, at8)), after: mondays },
  'ending it': { before: standing, deed: (farm) => endStanding(farm.sales, standingWith(), day('2026-06-08')), after: mondays.slice(0, 2) },
  'changing it from a day on, of which one was moved to before that day': {
    makes: true,
    before: [...standing, ...writeOrder(undefined, { ...changed8, head: orderWith({ id: at8, due: day('2026-06-03') }) }).facts],
    deed: (farm) => changeFrom(farm.sales, standingWith(), { head: standingWith({ id: 'next' as StandingID, from: day('2026-06-04') }), lines: [lineWith({ id: 'n' as LineID, order: '', standing: 'next' as StandingID, bunches: 6 })] }),
    after: ['2026-06-01 again: 4', '2026-06-03: 9', '2026-06-15 again: 6', '2026-06-22 again: 6', '2026-06-29 again: 6'],
  },
  'changing it from a day on': {
    makes: true,
    before: standing,
    deed: (farm) => changeFrom(farm.sales, standingWith(), { head: standingWith({ id: 'next' as StandingID, from: day('2026-06-15'), days: '2' as Weekdays }), lines: [lineWith({ id: 'n' as LineID, order: '', standing: 'next' as StandingID, bunches: 6 })] }),
    after: [...mondays.slice(0, 2), '2026-06-16 again: 6', '2026-06-23 again: 6', '2026-06-30 again: 6'],
  },
  'beginning one': {
    makes: true, before: [], deed: () => writeStanding({ head: standingWith({ skips: [day('2026-06-15')] }), lines: [lineWith({ order: '', standing: 'weekly' as StandingID })] }), after: without('2026-06-15'),
  },
  'deleting a buyer with what is due': {
    before: [...standing, ...written], deed: (farm) => deleteBuyerAndOpen(farm.sales, farm.sales.buyers.get(studio)!, openOf(farm.sales, day('2026-06-02'), (id) => id === studio), day('2026-06-02')), after: mondays.slice(0, 1),
  },
}

describe('what is done to orders', () => {
  it.each(Object.entries(cases))('%s', (_, { before, deed, after, makes }) => {
    const farm = farmSaid([...ground, ...before])
    const { facts, undo } = deed(farm)
    expect(deliveries(farmSaid([...ground, ...before], facts))).toEqual(after)
    expect(deliveries(farmSaid([...ground, ...before], facts, undo)), 'taken back').toEqual(deliveries(farm))
    if (!makes) expect(deliveries(farmSaid([...ground, ...before], facts, undo, facts)), 'and done again').toEqual(after)
  })
})

describe('a standing order that changes from a day on', () => {
  it('leaves out the days that were skipped or changed for themselves, which would come twice', () => {
    const before = [...standing, ...skipDay('weekly' as StandingID, day('2026-06-22'), true).facts, ...writeOrder(undefined, changed8).facts]
    const farm = farmSaid([...ground, ...before])
    const deed = changeFrom(farm.sales, farm.sales.standings.get('weekly' as StandingID)!, { head: standingWith({ id: 'next' as StandingID, from: day('2026-06-08') }), lines: [lineWith({ id: 'n' as LineID, order: '', standing: 'next' as StandingID, bunches: 6 })] })
    expect(deliveries(farmSaid([...ground, ...before], deed.facts))).toEqual(['2026-06-01 again: 4', '2026-06-08: 9', '2026-06-15 again: 6', '2026-06-29 again: 6'])
  })
})

it('a delivery that was changed, withdrawn and changed again has no line of before', () => {
  const two = { ...changed8, lines: [...changed8.lines, lineWith({ id: 'more' as LineID, order: at8, bunches: 1 })] }
  const farm = farmSaid([...ground, ...standing, ...writeOrder(undefined, two).facts])
  const back = withdrawOrder(due(farm, at8)).facts
  expect(deliveries(farmSaid([...ground, ...standing, ...writeOrder(undefined, two).facts], back, writeOrder(undefined, changed8).facts))[1]).toBe('2026-06-08: 9')
})

describe('the standing order behind a written one', () => {
  const farm = farmSaid([...ground, ...standing, ...written, ...writeOrder(undefined, changed8).facts])
  it.each([['order', undefined], [at8, 'weekly'], ['weekly@2026-06-09', undefined], ['other@2026-06-08', undefined]])('of %s is %s', (id, behind) => {
    expect(standingBehind(farm.sales, id as OrderID)?.standing.id).toBe(behind)
  })
})

it('a changed order says the fields that differ and no other', () => {
  const { facts } = writeOrder({ head: orderWith(), lines: [lineWith()] }, { head: orderWith({ note: 'late' }), lines: [lineWith({ bunch: '' as BunchID, price: 0 as Cents })] })
  expect(facts.map(({ field, value }) => `${field}=${String(value)}`)).toEqual(['note=late', 'cents=0', 'bunch='])
})

describe('a buyer who is deleted', () => {
  const farm = farmSaid([...ground, ...written, ...standing, ...orderFacts(orderWith({ id: 'past' as OrderID, due: day('2026-05-01') })), ...orderFacts(orderWith({ id: 'theirs' as OrderID, buyer: corner })), ...lineFacts(lineWith({ id: 'theirs' as LineID, order: 'theirs' as OrderID }))])
  const open = openOf(farm.sales, day('2026-06-02'), (id) => id === studio)
  it('has open what is due from today on', () => expect([open.dues.map((one) => one.order), open.standings.map((one) => one.id)]).toEqual([['order'], ['weekly']]))

  it('leaves what is due to be looked at, and nothing where nothing is', () => {
    const gone = farmSaid([...ground, ...written, ...standing], deleteBuyer(farm.sales.buyers.get(studio)!).facts, deleteBuyer(farm.sales.buyers.get(corner)!).facts)
    expect(saleLooks(gone, day('2026-06-02')).flatMap((look) => (look.kind === 'buyer_gone' ? [[look.buyer.name, look.open.dues.length, look.open.standings.length, look.open.next]] : []))).toEqual([['Studio Nord', 1, 1, '2026-06-04']])
    expect(saleLooks(farm, day('2026-06-02'))).toEqual([])
  })
})
