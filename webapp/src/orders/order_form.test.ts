import { describe, expect, it } from 'vitest'
import { lotCell } from '../crop/lots'
import type { ColourID } from '../crop/nouns'
import type { Cents, LineID, OrderID, PackedID, StandingID, Weekdays } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import { lotOf } from '../crop/testing/sold'
import { orderFacts, packedCount, packedFacts } from '../crop/sale_facts'
import { draftOfLine, lastOrders, type LineDraft, lineOfBunch, linesAgain, nextDays, type OrderDraft, packedProblems, readOrder, readStanding, type StandingDraft, withWeekday } from './order_form'
import { channel, corner, day, ground, lineWith, orderWith, studio, ten } from './testing/sold'

const { sales } = farmSaid([...ground])
const draftLine = (part: Partial<LineDraft> = {}): LineDraft => ({ ...lineOfBunch('new' as LineID, ten, 'cm'), ...part })
const made = { id: 'order' as OrderID, taken: day('2026-06-01') }

describe('an order that is typed', () => {
  const draft: OrderDraft = { buyer: studio, day: '2026-06-04', note: ' ring ', lines: [draftLine({ bunches: '4' })] }
  it('is one, priced by the list of its day', () => {
    expect(readOrder(draft, made, sales, 'cm')).toEqual({
      head: { ...made, buyer: studio, due: '2026-06-04', note: 'ring' }, lines: [lineWith({ id: 'new' as LineID, price: 560 as Cents })],
    })
  })

  it.each<[string, Partial<LineDraft>, number]>([
    ['a price that was typed', { price: '5,10' }, 510], ['the lowest of its colours', { colours: ['ember', 'garnet'] as ColourID[] }, 480],
    ['none where there is none', { bunch: '' }, 0],
  ])('takes %s', (_, part, cents) => {
    const read = readOrder({ ...draft, lines: [draftLine(part)] }, made, sales, 'cm')
    expect('lines' in read && read.lines[0]!.price).toBe(cents)
  })

  it.each<[string, Partial<OrderDraft>, unknown]>([
    ['nobody who buys', { buyer: '' }, [{ of: 'buyer' }]],
    ['no day', { day: '' }, [{ of: 'day' }]],
    ['a day that there is not', { day: '2026-06-31' }, [{ of: 'day' }]],
    ['no line', { lines: [] }, [{ of: 'lines' }]],
    ['no bunches', { lines: [draftLine(), draftLine({ bunches: '0' })] }, [{ of: 'bunches', line: 2 }]],
    ['bunches below none', { lines: [draftLine({ bunches: '-4' })] }, [{ of: 'bunches', line: 1 }]],
    ['too many bunches', { lines: [draftLine({ bunches: '10000' })] }, [{ of: 'bunches', line: 1 }]],
    ['half a bunch', { lines: [draftLine({ bunches: '1.5' })] }, [{ of: 'bunches', line: 1 }]],
    ['a bunch of no stems', { lines: [draftLine({ stems: '0' })] }, [{ of: 'stems', line: 1 }]],
    ['a bunch of more stems than one is tied of', { lines: [draftLine({ stems: '501' })] }, [{ of: 'stems', line: 1 }]],
    ['a length that is none', { lines: [draftLine({ length: 'long' })] }, [{ of: 'length', line: 1 }]],
    ['a price of zero', { lines: [draftLine({ price: '0.00' })] }, [{ of: 'price_zero', line: 1 }]],
    ['a price below zero', { lines: [draftLine({ price: '-1' })] }, [{ of: 'price', line: 1 }]],
    ['a huge price', { lines: [draftLine({ price: '9999999' })] }, [{ of: 'price', line: 1 }]],
    ['several things', { buyer: '', day: 'x', lines: [] }, [{ of: 'buyer' }, { of: 'day' }, { of: 'lines' }]],
  ])('is none with %s', (_, part, problems) => expect(readOrder({ ...draft, ...part }, made, sales, 'cm')).toEqual({ problems }))

  it('is changed from what it was', () => {
    const line = lineWith({ colours: ['ember' as ColourID], whole: true })
    const read = readOrder({ buyer: studio, day: '2026-06-04', note: '', lines: [draftOfLine(line, 'in')] }, made, sales, 'in')
    expect('lines' in read && read.lines).toEqual([line])
  })
})

describe('a standing order that is typed', () => {
  const draft: StandingDraft = { buyer: studio, days: '14' as Weekdays, every: '2', from: '2026-06-01', until: '', note: '', lines: [draftLine()] }
  const of = { id: 'weekly' as StandingID, skips: [] }
  it('is one whose price follows the list', () => {
    const read = readStanding(draft, of, 'cm')
    expect('lines' in read && [read.head.every, read.lines[0]!.standing, read.lines[0]!.order, read.lines[0]!.price]).toEqual([2, 'weekly', '', 0])
  })
  it.each<[string, Partial<StandingDraft>, string[]]>([
    ['nobody who buys', { buyer: '' }, ['buyer']], ['no day of the week', { days: '' as Weekdays }, ['weekdays']], ['every no weeks', { every: '0' }, ['every']],
    ['every 53 weeks', { every: '53' }, ['every']], ['no first day', { from: '' }, ['from']], ['a last day before the first', { until: '2026-05-31' }, ['until']],
    ['a last day that there is not', { until: '2026-02-30' }, ['until']], ['no line', { lines: [] }, ['lines']],
  ])('is none with %s', (_, part, problems) => {
    const read = readStanding({ ...draft, ...part }, of, 'cm')
    expect('problems' in read && read.problems.map((one) => one.of)).toEqual(problems)
  })
})

it('who ordered last is known with their last order', () => {
  const farm = farmSaid([...ground, ...['2026-06-04', '2026-06-11', '2026-05-01'].flatMap((due) => orderFacts(orderWith({ id: due as OrderID, due: day(due) })))])
  const last = lastOrders(farm.sales)
  expect([last.get(studio)?.due, last.get(corner)]).toEqual(['2026-06-11', undefined])
})

it('an order again is priced anew, and as then where the list has no price', () => {
  const last = { buyer: studio, lines: [lineWith(), lineWith({ id: 'own' as LineID, bunch: '', price: 333 as Cents })] }
  const again = linesAgain(sales, last, day('2026-06-09'), 'cm', () => 'fresh' as LineID)
  expect(again.map(({ id, price }) => [id, price])).toEqual([['fresh', ''], ['fresh', '3.33']])
})

describe('the next days of a channel', () => {
  const at = (moment: string) => new Date(moment).getTime()
  it.each<[string, string, string[]]>([
    ['are its days', '2026-05-31T12:00:00', ['2026-06-04', '2026-06-08', '2026-06-11']],
    ['are those that are still open', '2026-06-02T18:01:00', ['2026-06-08', '2026-06-11', '2026-06-15']],
  ])('%s', (_, now, days) => expect(nextDays(channel, day(now.slice(0, 10)), at(now), 3)).toEqual(days))

  it('are any without one', () => expect(nextDays(undefined, day('2026-06-01'), at('2026-06-01T12:00:00'), 2)).toEqual(['2026-06-01', '2026-06-02']))
})

it.each([['', 4, '4'], ['14', 1, '4'], ['4', 1, '14'], ['7', 7, '']])('days "%s" with %i tapped are "%s"', (days, digit, want) => expect(withWeekday(days as Weekdays, digit)).toBe(want))

describe('a line of which 3 bunches are packed', () => {
  const at = 'packed' as PackedID
  const packed = farmSaid(ground, [...packedFacts({ id: at, line: 'line' as LineID, buyer: studio, due: day('2026-06-04'), date: day('2026-06-03'), person: '' }), packedCount(at, 'bunches', 3)]).sales
  it.each<[string, number, number, unknown[]]>([
    ['may order more', 4, 9, []], ['may order just that', 4, 3, []], ['may not order less', 4, 2, [{ of: 'packed', line: 1, packed: 3 }]],
    ['may stay as it is where more was packed than it ordered', 2, 2, []], ['may order no less than that even then', 2, 1, [{ of: 'packed', line: 1, packed: 3 }]],
  ])('%s', (_, before, after, want) => {
    expect(packedProblems(packed, [lineWith({ bunches: before })], [lineWith({ bunches: after })])).toEqual(want)
  })

  it.each<[string, number, number, unknown[]]>([
    ['may not become bunches of 20', 10, 20, [{ of: 'packed_stems', line: 1, packed: 3 }]], ['stays in bunches of 10', 10, 10, []],
    ['may become what was packed again', 20, 10, []],
  ])('%s', (_, before, after, want) => {
    const told = farmSaid(ground, [...packedFacts({ id: at, line: 'line' as LineID, buyer: studio, due: day('2026-06-04'), date: day('2026-06-03'), person: '' }), packedCount(at, 'bunches', 3), packedCount(at, lotCell(lotOf('b', '2026-06-01')), 30)]).sales
    expect(packedProblems(told, [lineWith({ stems: before })], [lineWith({ stems: after })])).toEqual(want)
  })
})
