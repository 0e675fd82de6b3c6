import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { channelKeeps } from './commission'
import type { Cents } from './sale_nouns'

interface KeepsCase { readonly name: string; readonly price: number; readonly commission: number; readonly keeps: number }
const { cases } = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/commission.json'), 'utf8')) as { cases: KeepsCase[] }

it.each(cases.map((one) => [one.name, one] as const))('a channel keeps: %s', (_, { price, commission, keeps }) => {
  expect(channelKeeps(price as Cents, commission)).toBe(keeps)
})
