import { describe, expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { addDays } from './day'
import type { Delivered } from './delivered'
import { deliveredTo, deliveryKey } from './delivered'
import type { RowID, Statement, StatementID, StatementRow } from './money_nouns'
import type { Day } from './nouns'
import { isLeftOut, mostDaysApart, reconcile } from './reconcile'
import { buyerFacts, channelFacts } from './sale_facts'
import type { BuyerID, Cents, ChannelID, LineID } from './sale_nouns'
import { farmSaid } from './testing/said'
import { claimSaid, lineWith, orderSaid, packedSaid } from './testing/sold'

const june: Statement = { id: 'june' as StatementID, channel: 'ch' as ChannelID, from: '2026-06-01' as Day, to: '2026-06-30' as Day, paid: '', cents: 0 as Cents, note: '' }
const july: Statement = { ...june, id: 'july' as StatementID, from: '2026-07-01' as Day, to: '2026-07-31' as Day }

function delivered(line: string, day: string, bunches: number, price: number, told: Partial<Delivered> = {}): Delivered {
  return { line: line as LineID, due: `2026-${day}` as Day, buyer: 'b' as BuyerID, bunches, gross: (price * bunches) as Cents, credited: 0 as Cents, ...told }
}

function row(id: string, day: string, bunches: number, cents: number, told: Partial<StatementRow> = {}): StatementRow {
  return {
    id: id as RowID, statement: june.id, place: Number(id.replace(/\D/g, '')) || 1, date: day === '' ? '' : (`2026-${day}` as Day), words: '', bunches, cents: cents as Cents,
    kept: 0 as Cents, line: '', due: '', settled: false, ...told,
  }
}

/** Row by row "id verdict lines", then what is missing. */
function told(rows: readonly StatementRow[], deliveries: readonly Delivered[], statements = [june], of = june): string[] {
  const { rows: found, missing } = reconcile(statements, rows, deliveries).get(of.id)!
  return [...found.map(({ row: { id }, verdict, of: lines }) => [id, verdict, ...lines.map(({ line }) => line)].join(' ')), ...missing.map(({ line }) => `missing ${line}`)]
}

describe('a row', () => {
  it.each<[string, readonly StatementRow[], readonly Delivered[], readonly string[]]>([
    ['agrees with what was delivered on its day', [row('r1', '06-10', 12, 6600)], [delivered('a', '06-10', 12, 550)], ['r1 agrees a']],
    ['agrees with what was delivered a few days before', [row('r1', '06-14', 12, 6600)], [delivered('a', '06-10', 12, 550)], ['r1 agrees a']],
    ['is not of what was delivered long before', [row('r1', '06-15', 12, 6600)], [delivered('a', '06-10', 12, 550)], ['r1 not_ours', 'missing a']],
    ['without a day is of the statement’s days', [row('r1', '', 12, 6600)], [delivered('a', '06-29', 12, 550), delivered('b', '07-01', 12, 550)], ['r1 agrees a']],
    ['differs in its amount', [row('r1', '06-10', 12, 6000)], [delivered('a', '06-10', 12, 550)], ['r1 amount a']],
    ['differs in its bunches', [row('r1', '06-10', 11, 6600)], [delivered('a', '06-10', 12, 550)], ['r1 bunches a']],
    ['differs in both, where it and the delivery have nobody else', [row('r1', '06-10', 11, 6050)], [delivered('a', '06-10', 12, 550)], ['r1 both a']],
    ['is nobody’s where two may be meant and neither is alike', [row('r1', '06-10', 11, 6050)], [delivered('a', '06-10', 12, 550), delivered('b', '06-10', 9, 500)], ['r1 not_ours', 'missing a', 'missing b']],
    ['takes the nearest of two alike', [row('r1', '06-11', 12, 6600)], [delivered('a', '06-08', 12, 550), delivered('b', '06-11', 12, 550)], ['r1 agrees b', 'missing a']],
    ['leaves the nearest to one that has nothing else', [row('r1', '06-10', 12, 6600), row('r2', '06-14', 12, 6600)], [delivered('a', '06-07', 12, 550), delivered('b', '06-10', 12, 550)], ['r1 agrees a', 'r2 agrees b']],
    ['takes one that is the same before one whose bunches are', [row('r1', '06-10', 12, 6600)], [delivered('a', '06-10', 12, 600), delivered('b', '06-12', 12, 550)], ['r1 agrees b', 'missing a']],
    ['is of a whole day where the sums are the same', [row('r1', '06-10', 20, 10_000)], [delivered('a', '06-10', 12, 500), delivered('b', '06-10', 8, 500)], ['r1 agrees a b']],
    ['is of what a person named, whatever else is alike', [row('r1', '06-10', 12, 6600, { line: 'b' as LineID, due: '2026-06-25' as Day })], [delivered('a', '06-10', 12, 550), delivered('b', '06-25', 12, 500)], ['r1 amount b', 'missing a']],
    ['is not ours where a person named what is there no longer', [row('r1', '06-10', 12, 6600, { line: 'z' as LineID, due: '2026-06-10' as Day })], [delivered('a', '06-10', 12, 550)], ['r1 not_ours', 'missing a']],
    ['and what came back, both named, are one delivery', [row('r1', '06-10', 12, 6600, { line: 'a' as LineID, due: '2026-06-10' as Day }), row('r2', '06-12', -2, -1100, { line: 'a' as LineID, due: '2026-06-10' as Day })], [delivered('a', '06-10', 10, 550)], ['r1 agrees a', 'r2 agrees a']],
    ['agrees with any amount where no price is known', [row('r1', '06-10', 12, 6600)], [delivered('a', '06-10', 12, 0, { gross: undefined })], ['r1 agrees a']],
    ['agrees with the amount after a claim', [row('r1', '06-10', 12, 6100)], [delivered('a', '06-10', 12, 550, { credited: 500 as Cents })], ['r1 agrees a']],
    ['differs where a claim was not taken off', [row('r1', '06-10', 12, 6600)], [delivered('a', '06-10', 12, 550, { credited: 500 as Cents })], ['r1 amount a']],
  ])('%s', (_, rows, deliveries, want) => expect(told(rows, deliveries)).toEqual(want))

  it('of one statement leaves the delivery to it alone', () => {
    const both = [row('r1', '06-30', 12, 6600), row('r2', '07-02', 12, 6600, { statement: july.id })]
    const deliveries = [delivered('a', '06-30', 12, 550)]
    expect([told(both, deliveries, [june, july]), told(both, deliveries, [june, july], july)]).toEqual([['r1 agrees a'], ['r2 not_ours']])
  })

  it('tells by how much it differs', () => {
    const [found] = reconcile([june], [row('r1', '06-10', 11, 6000)], [delivered('a', '06-10', 12, 550)]).get(june.id)!.rows
    expect([found?.bunchesOff, found?.centsOff]).toEqual([-1, -600])
  })
})

describe('what is open', () => {
  const deliveries = [delivered('a', '06-10', 12, 550), delivered('b', '06-17', 12, 550)]
  const rows = [row('r1', '06-10', 12, 6000), row('r2', '06-25', 1, 500)]
  const open = (more: readonly StatementRow[], cents = 6500) => reconcile([{ ...june, cents: cents as Cents }], more, deliveries).get(june.id)!.open

  it('are rows that differ, rows that are not ours, and what is missing', () => expect(open(rows)).toBe(3))
  it('is a foot that does not add up', () => expect(open(rows, 6400)).toBe(4))
  it('is no row that a person let stand', () => expect(open(rows.map((one) => ({ ...one, settled: true })))).toBe(1))
  it('is nothing once a person let stand what is missing', () => {
    const out = row('r3', '', 0, 0, { line: 'b' as LineID, due: '2026-06-17' as Day, settled: true })
    expect(isLeftOut(out)).toBe(true)
    expect(open([...rows.map((one) => ({ ...one, settled: true })), out])).toBe(0)
    expect(told([...rows, out], deliveries)).toEqual(['r1 amount a', 'r2 not_ours', 'r3 left_out b'])
  })
})

it('the foot is what the rows come to less what is kept', () => {
  const { foot } = reconcile([{ ...june, cents: 5200 as Cents }], [row('r1', '06-10', 12, 6600, { kept: 1320 as Cents })], []).get(june.id)!
  expect(foot).toEqual({ gross: 6600, kept: 1320, net: 5280, printed: 5200, off: -80 })
})

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)

describe(`of statements made of what was delivered, seed ${seed}`, () => {
  const random = new Random(seed)
  const below = (n: number) => random.between(0, n - 1)
  const made = Array.from({ length: 200 }, () => Array.from({ length: 1 + below(14) }, (_, i) => delivered(`l${i}`, '06-10', 1 + below(3), 500 + 10 * below(2), { due: addDays('2026-06-05' as Day, below(20)) })))
  const rowsOf = (deliveries: readonly Delivered[], days: number) =>
    deliveries.map((one, i) => row(`r${i + 1}`, '', one.bunches, one.gross!, { date: addDays(one.due, below(2 * days + 1) - days) })).sort(() => random.next() - 0.5)

  it('every row agrees, however its day lies within reach', () => {
    for (const deliveries of made) {
      const { rows, missing } = reconcile([june], rowsOf(deliveries, mostDaysApart), deliveries).get(june.id)!
      expect([rows.filter(({ verdict }) => verdict !== 'agrees'), missing]).toEqual([[], []])
    }
  })
  it('no delivery is of two rows, and each is found or missing, whatever the rows say', () => {
    for (const deliveries of made) {
      const rows = rowsOf(deliveries, 9).map((one) => (below(3) === 0 ? { ...one, bunches: 1 + below(9) } : one)).slice(below(3))
      const found = reconcile([june], rows, deliveries).get(june.id)!
      const keys = [...found.rows.flatMap(({ of }) => of), ...found.missing].map(deliveryKey)
      expect(keys.sort()).toEqual(deliveries.map(deliveryKey).sort())
      expect(found.rows).toHaveLength(rows.length)
    }
  })
})

it('what was delivered to a channel is what its buyers’ packed bunches go for, line by line', () => {
  const { sales } = farmSaid([
    ...channelFacts('ch' as ChannelID, { name: 'Co-op', kind: 'co_op' }), ...buyerFacts('bu' as BuyerID, { name: 'Stall', channel: 'ch' as ChannelID }), ...buyerFacts('other' as BuyerID, { name: 'Else', channel: 'else' as ChannelID }),
    ...orderSaid('or', '2026-06-04', [lineWith({ bunches: 12 })]), ...orderSaid('else', '2026-06-04', [lineWith({ id: 'el' as LineID })], 'other'),
    ...packedSaid('p1', 'li', '2026-06-04', 7, []), ...packedSaid('p2', 'li', '2026-06-04', 5, []), ...packedSaid('p3', 'el', '2026-06-04', 2, [], 'other'),
    ...packedSaid('p4', 'gone', '2026-06-05', 3, []), ...claimSaid('cl', { credit: 520 as Cents }),
  ])
  expect(deliveredTo(sales, 'ch' as ChannelID)).toEqual([
    { line: 'li', due: '2026-06-04', buyer: 'bu', bunches: 12, gross: 6240, credited: 520 },
    { line: 'gone', due: '2026-06-05', buyer: 'bu', bunches: 3, gross: undefined, credited: 0 },
  ])
})
