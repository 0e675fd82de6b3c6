import { describe, expect, it } from 'vitest'
import { readPasted } from './statement_lines'

const rules = { order: 'day_first', year: 2026 } as const
const row = (date: string, words: string, bunches: number, cents: number, kept = 0) => ({ date, words, bunches, cents, kept })

describe('a line that is pasted', () => {
  it.each([
    ['with tabs', '2026-06-11\tLisianthus white\t12\t66.00\t13.20', row('2026-06-11', 'Lisianthus white', 12, 6600, 1320)],
    ['with semicolons and decimal commas', '11.06.2026;Weiss;12;66,00;13,20', row('2026-06-11', 'Weiss', 12, 6600, 1320)],
    ['with wide gaps', '11/06   Lisianthus, white    12   66.00', row('2026-06-11', 'Lisianthus, white', 12, 6600)],
    ['with the price of a bunch, which is passed over', '11/06\tWhite\t12\t5.50\t66.00\t13.20', row('2026-06-11', 'White', 12, 6600, 1320)],
    ['with what is paid in place of what is kept', '11/06\tWhite\t12\t66.00\t52.80', row('2026-06-11', 'White', 12, 6600, 1320)],
    ['with what is kept and what is paid', '11/06\tWhite\t12\t66.00\t13.20\t52.80', row('2026-06-11', 'White', 12, 6600, 1320)],
    ['with what is kept written below zero', '11/06\tWhite\t12\t66.00\t-13.20\t52.80', row('2026-06-11', 'White', 12, 6600, 1320)],
    ['of bunches that came back', '11/06\tReturn\t-2\t-11.00\t-2.20', row('2026-06-11', 'Return', -2, -1100, -220)],
    ['with brackets for less than nothing', '11/06\tReturn\t\t(11.00)', row('2026-06-11', 'Return', 0, -1100)],
    ['with currencies and thousands', '11/06;White;200;€ 1,234.50', row('2026-06-11', 'White', 200, 123450)],
    ['with thousands as others write them', '11/06;White;200;1.234,50 EUR', row('2026-06-11', 'White', 200, 123450)],
    ['without a day', 'White\t12\t66.00', row('', 'White', 12, 6600)],
    ['with an article’s number, which is words', '11/06\t4711\t12\t66.00', row('2026-06-11', '4711', 12, 6600)],
    ['of one bunch, whose price is its gross', '11/06\tWhite\t1\t5.50\t1.10', row('2026-06-11', 'White', 1, 550, 110)],
    ['in quotes', '"11/06";"White";"12";"66.00"', row('2026-06-11', 'White', 12, 6600)],
  ])('%s', (_, text, want) => expect(readPasted(text, rules)).toEqual([{ text: text.trim(), read: want, problem: undefined }]))

  it('with its month first', () => {
    expect(readPasted('6/11\tWhite\t12\t66.00', { order: 'month_first', year: 2026 })[0]?.read?.date).toBe('2026-06-11')
  })

  it.each([
    ['without an amount', '11/06\tWhite\t12', 'amount'],
    ['on no day', '31/06\tWhite\t12\t66.00', 'day'],
    ['with amounts that do not add up', '11/06\tWhite\t12\t66.00\t13.20\t50.00', 'many'],
    ['with too many amounts', '11/06\tWhite\t12\t66.00\t13.20\t52.80\t1.00', 'many'],
    ['with more kept than there is', '11/06\tWhite\t12\t66.00\t70.00', 'many'],
  ])('%s is none', (_, text, problem) => expect(readPasted(text, rules)).toEqual([{ text: text.trim(), read: undefined, problem }]))
})

it('a head without numbers and empty lines are passed over', () => {
  const read = readPasted('Date\tWhat\tBunches\tAmount\n\n11/06\tWhite\t12\t66.00\r\n12/06\tRed\t1\t5.00\n', rules)
  expect(read.map((line) => line.read?.words)).toEqual(['White', 'Red'])
})

it('nothing pasted is nothing', () => expect(readPasted(' \n', rules)).toEqual([]))
