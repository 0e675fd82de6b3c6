import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { afterDiscount, discountOf, partsOf } from './discount'
import { totalsOf } from './invoice_total'
import type { Cents, InvoiceLine, LineID } from './sale_nouns'

interface Case {
  readonly name: string; readonly rows: number[]; readonly fees: number[]; readonly rate: number; readonly cents: number; readonly tax_rate: number
  readonly discount: number; readonly shares: number[]; readonly net: number; readonly tax: number; readonly total: number
}
const { cases } = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/discount.json'), 'utf8')) as { cases: Case[] }

const row = (line: string, cents: number): InvoiceLine => ({ line: line as LineID | '', due: '', bunches: line === '' ? 0 : 1, stems: 10, cents: cents as Cents, words: '' })
const sum = (all: readonly number[]) => all.reduce((total, one) => total + one, 0)

it.each(cases.map((one) => [one.name, one] as const))('%s', (_, { rows, fees, rate, cents, tax_rate, discount, shares, net, tax, total }) => {
  const off = discountOf({ rate, cents: cents as Cents }, sum(rows) as Cents)
  expect(off).toBe(discount)
  const lines = [...rows.map((one, i) => row(`l${i}`, one)), ...fees.map((one) => row('', one)), ...(off > 0 ? [row('', -off)] : [])]
  expect(totalsOf({ lines, taxRate: tax_rate, tax: undefined })).toEqual({ net, tax, total })
  const after = afterDiscount({ lines, credits: '' })
  expect(rows.map((one, i) => one - after[i]!.cents)).toEqual(shares)
  expect(sum(after.map((one) => one.cents))).toBe(net)
})

it('a credit note’s rows, which all take off, are no discount', () => {
  const lines = [row('a', -500), row('', -600)]
  expect(afterDiscount({ lines, credits: 'i' as never })).toBe(lines)
})

it('parts of anything add up to it, however large', () => {
  expect(partsOf(9_000_000_000_000_000, [3_000_000_000_000, 1_000_000_000_000])).toEqual([6_750_000_000_000_000, 2_250_000_000_000_000])
  const seed = Number(process.env['CORYMB_SEED'] ?? Math.floor(Math.random() * 2 ** 31))
  let state = seed
  const next = (below: number) => (state = (state * 48271 + 11) % 2147483647) % below
  for (let n = 0; n < 2000; n++) {
    const whole = next(1_000_000)
    const weights = Array.from({ length: 1 + next(20) }, () => next(2) * next(1000))
    const parts = partsOf(whole, weights)
    const all = sum(weights)
    expect(sum(parts), `seed ${seed}`).toBe(whole)
    if (all > 0) parts.forEach((part, i) => expect(Math.abs(part - whole * weights[i]! / all), `seed ${seed}`).toBeLessThan(1))
  }
})
