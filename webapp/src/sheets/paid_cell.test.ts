import { expect, it } from 'vitest'
import type { Day } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { readPaid } from './paid_cell'

const sold = { date: '2026-06-01' as Day, cents: 2080 as Cents }

it.each([
  ['yes', sold], ['Sí', sold], ['X', sold], ['✓', sold], ['Paid in full', sold],
  ['14/06/2026', { ...sold, date: '2026-06-14' }], ['2026-06-14', { ...sold, date: '2026-06-14' }],
  ['10,50', { ...sold, cents: 1050 }], ['€20.80', sold],
  ['', null], ['no', null], ['Pendiente', null], ['0', null],
  ['by cheque', undefined], ['-5', undefined], ['1.250', undefined],
] as const)('%s', (text, want) => expect(readPaid(text, sold, 'dmy')).toEqual(want))

it('all of what has no price cannot have been paid', () => {
  expect(['yes', '2026-06-14', '5.00', 'no'].map((text) => readPaid(text, { ...sold, cents: 0 as Cents }, 'ymd'))).toEqual([undefined, undefined, { ...sold, cents: 500 }, null])
})
