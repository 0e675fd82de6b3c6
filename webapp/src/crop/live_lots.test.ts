import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { State } from '../log/state'
import { byLife, cooler, lots } from './cooler'
import { withdrawnFact } from './facts'
import { LiveFarm } from './live'
import { lotCell } from './lots'
import type { Day, Farm } from './nouns'
import { lineFacts, packedCount } from './sale_facts'
import type { InvoiceID, LineID, PackedID } from './sale_nouns'
import { invoiceSaid } from './testing/billed'
import { benchSaid, lotOf, orderSaid, lineWith, packedSaid, shrinkSaid } from './testing/sold'
import { farmID, farmSaid } from './testing/said'
import { entriesRead } from './testing/work'

const today = '2026-06-04' as Day
const lot = lotOf('b', '2026-06-01')
const setDate = (id: string, date: string): Fact => ({ scope: 'shed', op: 'set', type: 'visit', id, field: 'date', value: date })

describe('a lot is what came, less what was packed and written off', () => {
  const begun = [benchSaid('v', lot, 50), packedSaid('pa', 'li', today, 2, [[lot, 20]]), shrinkSaid('sh', lot, 5)]
  it.each<[string, readonly (readonly Fact[])[], [string, number][]]>([
    ['as it stands', [], [['2026-06-01', 25]]],
    ['with another total of its bed and day', [benchSaid('w', lot, 10)], [['2026-06-01', 35]]],
    ['with the total moved to another day', [[setDate('v', '2026-06-02')]], [['2026-06-01', -25], ['2026-06-02', 50]]],
    ['with the total withdrawn', [[withdrawnFact('visit', 'v', true, 'shed')]], [['2026-06-01', -25]]],
    ['with what was written off taken back', [[withdrawnFact('shrink', 'sh', true, 'shed')]], [['2026-06-01', 30]]],
    ['with fewer packed', [[packedCount('pa' as PackedID, lotCell(lot), 5)]], [['2026-06-01', 40]]],
    ['with what was packed withdrawn, and come back', [[withdrawnFact('packed', 'pa', true, 'shed')], [withdrawnFact('packed', 'pa', false, 'shed')]], [['2026-06-01', 25]]],
    ['and is not in the cooler when all of it went', [shrinkSaid('s2', lot, 25)], []],
    ['and is not of a day ahead', [packedSaid('p2', 'li', today, 1, [[lotOf('b', '2026-06-09'), 10]])], [['2026-06-01', 25]]],
  ])('%s', (_, more, want) => {
    expect(cooler(farmSaid(...begun, ...more), today).map(({ id, left }) => [id.cut, left])).toEqual(want)
  })
})

it('lots past their life are apart, and of what was taken out twice there is nothing to sell', () => {
  const held = cooler(farmSaid(
    benchSaid('v', lotOf('b', '2026-05-20'), 10), benchSaid('w', lotOf('b', '2026-05-28'), 20), benchSaid('x', lotOf('b', '2026-06-02'), 30),
    shrinkSaid('sh', lotOf('b', '2026-06-03'), 3),
  ), today)
  const { fresh, past } = byLife(held)
  expect([fresh.map(({ left, daysLeft }) => [left, daysLeft]), past.map(({ left, daysLeft }) => [left, daysLeft])]).toEqual([[[20, 0], [30, 5]], [[10, -8]]])
})

it('lots kept up to date tell what lots read anew tell, whatever comes and goes', () => {
  const day = fc.integer({ min: 1, max: 3 }).map((n) => `2026-06-0${n}`)
  const some = fc.record({ bed: fc.constantFrom('a', 'b'), cut: day, stems: fc.integer({ min: 1, max: 30 }), id: fc.constantFrom('1', '2', '3') })
  const said = fc.oneof(
    some.map(({ bed, cut, stems, id }) => benchSaid(`v${id}`, lotOf(bed, cut), stems)),
    some.map(({ bed, cut, stems, id }) => packedSaid(`p${id}`, 'li', today, 1, [[lotOf(bed, cut), stems]])),
    some.map(({ stems }) => lineFacts(lineWith({ bunches: stems % 3 }))),
    some.map(({ stems, id }) => invoiceSaid(`i${id}`, [{ line: 'li' as LineID, bunches: stems % 3 }], id === '3' ? { credits: 'i1' as InvoiceID } : {})),
    some.map(({ bed, cut, stems, id }) => shrinkSaid(`s${id}`, lotOf(bed, cut), stems)),
    fc.tuple(fc.constantFrom('visit v', 'packed p', 'shrink s', 'invoice i'), fc.constantFrom('1', '2', '3'), fc.boolean())
      .map(([what, id, on]) => [withdrawnFact(what.split(' ')[0] as 'visit', `${what.split(' ')[1]}${id}`, on, 'shed')]),
  )
  fc.assert(fc.property(fc.array(said, { maxLength: 25 }), (operations) => {
    const live = liveOf(operations)
    const anew = farmSaid(...operations)
    const told = (farm: Farm) => [lots(farm, today), [...farm.lots.open].sort(), [...farm.lots.over].sort(), [...farm.sales.overPacked], [...farm.sales.otherStems], [...farm.sales.overBilled], [...farm.sales.billing.lines]]
    expect(told(live)).toEqual(told(anew))
  }), { numRuns: 100 })
})

/** Takes each operation as it comes, as a phone does. */
function liveOf(operations: readonly (readonly Fact[])[]): Farm {
  const farm = new Growing([])
  for (const facts of operations) farm.say(facts)
  return farm.farm
}

class Growing {
  private readonly state = new State()
  private readonly live = new LiveFarm(farmID)
  private seq = 0

  constructor(operations: readonly (readonly Fact[])[]) {
    for (const facts of operations) this.merge(facts)
    this.live.replace(this.state)
  }

  get farm(): Farm {
    return this.live.farm.peek()
  }

  say(facts: readonly Fact[]): void {
    this.merge(facts)
    const keys = new Map(facts.map(({ type, id }) => [`${type} ${id}`, { type, id }]))
    this.live.update([...keys.values()].map((key) => [key, [...this.state].find((e) => e.key.type === key.type && e.key.id === key.id)] as const))
  }

  /** The work of the farm alone for what was said, without the state's own. */
  work(facts: readonly Fact[], drawing: (farm: Farm) => void): number {
    this.merge(facts)
    const [{ type, id }] = facts as [Fact]
    const entity = [...this.state].find((e) => e.key.type === type && e.key.id === id)
    return entriesRead(() => {
      this.live.update([[{ type, id }, entity]])
      drawing(this.farm)
    })
  }

  private merge(facts: readonly Fact[]): void {
    const stamp = { l: 1000 + this.seq, c: 0 }
    for (const fact of facts) this.state.merge({ ...fact, incarnation: '00000000-0000-4000-8000-000000000001', seq: ++this.seq, stamp, rest: 0, person: 'maren' }, stamp)
  }
}

describe('a tap does not scan the seasons before it', () => {
  /** So many cut days, all of it packed: a line a day, and a tenth written off. */
  const seasons = (days: number): Fact[][] => Array.from({ length: days }, (_, i) => {
    const cut = new Date(Date.UTC(2024, 0, 1 + i)).toISOString().slice(0, 10)
    const of = lotOf('b', cut)
    return [
      ...benchSaid(`v${i}`, of, 100), ...orderSaid(`o${i}`, cut, [lineWith({ id: `l${i}` as never, bunches: 9 })]),
      ...packedSaid(`p${i}`, `l${i}`, cut, 9, [[of, 90]]), ...shrinkSaid(`s${i}`, of, 10),
    ]
  })
  const now = lotOf('b', today)
  it.each<[string, Fact[]]>([
    ['on the bench', benchSaid('now', now, 10)],
    ['on the packing screen', packedSaid('now', 'l1', today, 1, [[now, 10]])],
    ['that writes off', shrinkSaid('now', now, 3)],
  ])('%s, nor does the cooler drawn after it', (_, facts) => {
    const few = new Growing(seasons(20)).work(facts, (farm) => cooler(farm, today))
    const many = new Growing(seasons(200)).work(facts, (farm) => cooler(farm, today))
    expect(many).toBe(few)
  })
})
