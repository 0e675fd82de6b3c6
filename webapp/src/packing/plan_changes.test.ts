import { describe, expect, test } from 'vitest'
import { lotCell } from '../crop/lots'
import type { ColourID, Millimetres } from '../crop/nouns'
import { acceptsFacts, channelFacts, packedCount, packedFacts, shrinkFacts } from '../crop/sale_facts'
import type { Cents, ChannelID, LineID, LotID, PackedID, ShrinkID } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import { dayNow } from './day_now'
import type { PackingAnswer, PlanMoney } from './packing_answer'
import { changesKey, changesSince, type PlanChanges } from './plan_changes'
import { changesWritten } from './PlanSince'
import { wishesOf } from './plans'
import { benchFacts, buyer, lineWith, lotOf, orderedFacts, packDay, planWith } from './testing/shop'

const [old, young] = [lotOf('2026-06-01'), lotOf('2026-06-03')]
const none: PlanChanges = { orders: [], gone: 0, more: 0, fewer: 0, otherwise: 0, wishes: false }

/** Of 16 old and 30 young stems two of four bunches; one was packed before. */
const plan = planWith([{ packed: 1, more: 2, had: [{ lot: lotCell(old), stems: 10 }], from: [{ lot: lotCell(old), stems: 6 }, { lot: lotCell(young), stems: 14 }] }], {
  unsold: [{ lot: lotCell(young), stems: 16 }],
})

const packed = (bunches: number, stems: readonly (readonly [LotID, number])[], line = 'l'): Fact[] => [
  ...packedFacts({ id: `p ${line}` as PackedID, line: line as LineID, buyer, due: packDay, date: packDay, person: '' }),
  packedCount(`p ${line}` as PackedID, 'bunches', bunches), ...stems.map(([lot, n]) => packedCount(`p ${line}` as PackedID, lotCell(lot), n)),
]
const asPlanned = packed(1, [[old, 10]])
const written = (lot: LotID, stems: number) => shrinkFacts({ id: 's' as ShrinkID, lot, date: packDay, stems, reason: 'diseased', person: '', what: '' })

const moneyOf = (net: number): PlanMoney => ({
  revenue: 0 as Cents, bound: 0 as Cents, top_down: 0 as Cents, one_stem: {}, one_bunch: {}, net: { ['l' as LineID]: net as Cents },
})

describe('what became of the day since its plan', () => {
  interface Case {
    readonly name: string
    readonly then?: readonly Fact[][]
    readonly line?: Partial<ReturnType<typeof lineWith>>
    readonly plan?: Partial<PackingAnswer>
    readonly want: Partial<PlanChanges>
    readonly says?: string
  }
  test.each<Case>([
    { name: 'nothing', then: [asPlanned], want: {}, says: '' },
    { name: 'a bunch packed as planned', then: [packed(2, [[old, 16], [young, 4]])], want: {} },
    { name: 'all packed as planned', then: [packed(3, [[old, 16], [young, 14]])], want: {} },
    { name: 'more ordered', then: [asPlanned], line: { bunches: 5 }, want: { orders: [buyer] }, says: 'The order of Studio changed.' },
    { name: 'other colours', then: [asPlanned], line: { colours: ['oyster' as ColourID] }, want: { orders: [buyer] } },
    { name: 'a better grade', then: [asPlanned], line: { grade: 'first' }, want: { orders: [buyer] } },
    { name: 'longer stems', then: [asPlanned], line: { length: 400 as Millimetres }, want: { orders: [buyer] } },
    { name: 'larger bunches', then: [asPlanned], line: { stems: 12 }, want: { orders: [buyer] } },
    { name: 'all or nothing', then: [asPlanned], line: { whole: true }, want: { orders: [buyer] } },
    { name: 'a substitute that the buyer takes now', then: [asPlanned, acceptsFacts(buyer, 'ember' as ColourID, ['coral' as ColourID])], want: { orders: [buyer] } },
    { name: 'another price, on a device that knows prices', then: [asPlanned], plan: { money: moneyOf(499) }, want: { orders: [buyer] } },
    { name: 'the same price there', then: [asPlanned], plan: { money: moneyOf(500) }, want: {} },
    { name: 'the price that the shed reckons where a channel keeps a part that is no whole cent', then: [asPlanned, channelFacts('ch' as ChannelID, { name: 'Florists', kind: 'wholesale', commission: 1250 })], line: { price: 505 as Cents }, plan: { money: moneyOf(442) }, want: {} },
    { name: 'a line more', then: [asPlanned, orderedFacts(lineWith({ id: 'm' as LineID }))], want: { orders: [buyer] } },
    { name: 'a line less', then: [asPlanned], plan: { lines: [...plan.lines, { ...plan.lines[0]!, line: 'gone' as LineID, packed: 0, had: [], from: [] }] }, want: { gone: 1 }, says: '1 line is due no longer.' },
    { name: 'stems that came', then: [asPlanned, benchFacts(lotOf('2026-06-04'), 12)], want: { more: 12 }, says: '12 stems more are there.' },
    { name: 'stems that were counted again', then: [asPlanned, benchFacts(young, 33)], want: { more: 3 } },
    { name: 'stems written off', then: [asPlanned, written(young, 5)], want: { fewer: 5 }, says: '5 stems fewer are there.' },
    { name: 'stems packed for another day', then: [asPlanned, packed(1, [[young, 10]], 'other')], want: { fewer: 10 } },
    { name: 'more packed than planned', then: [packed(4, [[old, 16], [young, 24]])], want: { otherwise: 1 }, says: '1 bunch was packed otherwise.' },
    { name: 'packed of other stems than planned', then: [packed(2, [[old, 10], [young, 15]])], want: { otherwise: 1 } },
    { name: 'what was packed before taken back', then: [packed(0, [])], want: { otherwise: 1 } },
    { name: 'packed beyond what lay there, as two tablets do', then: [packed(4, [[old, 26], [young, 14]])], want: { otherwise: 1 } },
    { name: 'something pinned', then: [asPlanned], plan: { pinned: { ['l' as LineID]: 2 } }, want: { wishes: true }, says: 'Other lines are pinned or left out.' },
  ])('$name', ({ then = [], line, plan: told, want, says }) => {
    const farm = farmSaid([...orderedFacts(lineWith(line)), ...benchFacts(old, 16), ...benchFacts(young, 30)], ...then)
    const found = changesSince({ ...plan, ...told }, { sales: farm.sales, now: dayNow(farm, packDay, packDay), wishes: wishesOf(plan) })
    expect(found).toEqual({ ...none, ...want })
    expect(changesKey(found) === '').toBe(Object.keys(want).length === 0)
    if (says !== undefined) expect(changesWritten(farm, found)).toBe(says)
  })

  test('is no stems more where some past their life were packed by hand', () => {
    const past = lotOf('2026-05-20')
    const farm = farmSaid([...orderedFacts(lineWith()), ...benchFacts(past, 40)], packed(1, [[past, 10]]))
    const found = changesSince(planWith([{}]), { sales: farm.sales, now: dayNow(farm, packDay, packDay), wishes: wishesOf(undefined) })
    expect(found).toEqual({ ...none, otherwise: 1 })
  })

  test('is nothing of stems that are past their life, and were of no plan', () => {
    const farm = farmSaid([...orderedFacts(lineWith()), ...benchFacts(lotOf('2026-05-20'), 40)])
    const found = changesSince(planWith([{}]), { sales: farm.sales, now: dayNow(farm, packDay, packDay), wishes: wishesOf(undefined) })
    expect(found).toEqual(none)
  })
})
