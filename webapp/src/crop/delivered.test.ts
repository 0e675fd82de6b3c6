import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { deliveredTo } from './delivered'
import type { Fact } from '../log/change'
import type { Day } from './nouns'
import { buyerFacts, channelFacts } from './sale_facts'
import type { BuyerID, Cents, ChannelID, ClaimID, InvoiceID, LineID } from './sale_nouns'
import { invoiceSaid } from './testing/billed'
import { farmSaid } from './testing/said'
import { claimSaid, lineWith, orderSaid, packedSaid } from './testing/sold'

const channel = 'ch' as ChannelID
const due = '2026-06-04' as Day
const farm = [
  ...channelFacts(channel, { name: 'Co-op', kind: 'co_op' }), ...buyerFacts('bu' as BuyerID, { name: 'Stall', channel }),
  ...orderSaid('or', due, [lineWith({ bunches: 12 })]), // of 5.20 a bunch
]
const row = (line: string, bunches: number, cents: number) => ({ line: line as LineID, due, bunches, stems: 10, cents: cents as Cents })
const packed = (bunches: number, line = 'li', day: string = due) => packedSaid(`${line} ${day}`, line, day, bunches, [])
/** 36.40 and 6.00, a tenth off: 3.64 of the first and 0.60 of the other. */
const bill = invoiceSaid('1', [row('li', 7, 3640), row('other', 1, 600), { cents: -424 as Cents }])
const credits = '1' as InvoiceID

interface Case {
  readonly name: string
  readonly packed: readonly (readonly [Day, number])[]
  readonly bills: readonly { readonly id: string; readonly credits?: InvoiceID; readonly claim?: ClaimID; readonly void?: Day; readonly rows: readonly (readonly [LineID | '', number, Cents])[] }[]
  readonly sold: number
}

const { cases } = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/delivered.json'), 'utf8')) as { cases: Case[] }

it.each(cases)('what was delivered comes to what the books say was sold: $name', ({ packed: days, bills, sold }) => {
  const said = [...days.map(([day, bunches]) => packed(bunches, 'li', day)), ...bills.map(({ id, rows, ...told }) => invoiceSaid(id, rows.map(([line, bunches, cents]) => ({ line, due, bunches, cents })), told))]
  expect(deliveredTo(farmSaid(farm, ...said).sales, channel).reduce((sum, { gross }) => sum + gross!, 0)).toBe(sold)
})

it.each<[string, readonly (readonly Fact[])[], readonly (number | undefined)[]]>([
  ['what its bill charges after its share of the discount', [packed(7), bill], [3276]],
  ['what its bill charges before a claim, which is told beside it', [packed(7), bill, claimSaid('cl', { credit: 468 as Cents }), invoiceSaid('2', [{ line: 'li' as LineID, due, cents: -468 as Cents }], { credits, claim: 'cl' as ClaimID })], [3276]],
  ['what its bill charges of a line that has no price any more', [packed(7, 'gone'), invoiceSaid('1', [row('gone', 7, 3640), { cents: -364 as Cents }])], [3276]],
  ['nothing known, where some of that is not billed', [packed(8, 'gone'), invoiceSaid('1', [row('gone', 7, 3640)])], [undefined]],
  ['the bill’s by the bunches of both days, where the order was moved in between: 4 and 3 of 7 of 32.76', [packed(4, 'li', '2026-06-02'), packed(3), bill], [1872, 1404]],
  ['each day’s own price, where that is not billed', [packed(4, 'li', '2026-06-02'), packed(3)], [2080, 1560]],
])('what was delivered comes to %s', (_, said, want) => {
  expect(deliveredTo(farmSaid(farm, ...said).sales, channel).map(({ gross }) => gross)).toEqual(want)
})
