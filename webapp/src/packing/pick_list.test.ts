import { describe, expect, test } from 'vitest'
import { lotCell } from '../crop/lots'
import type { Grade } from '../crop/nouns'
import type { Cents, LineID, LotID } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import { dayNow } from './day_now'
import type { PackingAnswer, PlannedLine } from './packing_answer'
import { pickList, type Unfetched } from './pick_list'
import { wishesOf } from './plans'
import { benchFacts, lineWith, lotOf, orderedFacts, packDay, planWith } from './testing/shop'

const [old, young] = [lotOf('2026-06-01'), lotOf('2026-06-03')]
const [m, l] = ['m' as LineID, 'l' as LineID]

const stemsOf = (lot: LotID, stems: number) => ({ lot: lotCell(lot), stems })

interface Shop {
  readonly lines: readonly Partial<Parameters<typeof lineWith>[0]>[]
  readonly lots: readonly (readonly [LotID, number])[]
  readonly plan?: readonly Partial<PlannedLine>[]
  readonly wished?: Partial<PackingAnswer>
  /** What a stem of first grade must bring at least. */
  readonly floor?: number
}

function listOf({ lines, lots, plan, wished = {}, floor = 0 }: Shop) {
  const farm = farmSaid([...orderedFacts(...lines.map((told) => lineWith(told))), ...lots.flatMap(([lot, stems]) => benchFacts(lot, stems))])
  const channel = { floor: new Map<Grade, Cents>([['first', floor as Cents]]) }
  const answer = plan && planWith(plan, wished)
  return pickList({ now: dayNow(farm, packDay, packDay), plan: answer, wishes: wishesOf(answer), fillingOf: (due) => ({ due, channel, kept: [] }) })
}

describe('the pick list', () => {
  test('is of the oldest lots first, and of what is still to be packed', () => {
    const list = listOf({ lines: [{ id: l, bunches: 2 }, { id: m, bunches: 1 }], lots: [[young, 30], [old, 16]] })
    expect(list.lots.map(({ lot, stems }) => [lot.id.cut, stems])).toEqual([['2026-06-01', 16], ['2026-06-03', 14]])
    expect(list.short.size).toBe(0)
  })

  test('follows the plan', () => {
    const list = listOf({
      lines: [{ id: l, bunches: 2 }, { id: m, bunches: 3 }], lots: [[young, 30], [old, 16]],
      plan: [{ line: l, more: 1, from: [stemsOf(young, 10)] }, { line: m, more: 3, from: [stemsOf(old, 16), stemsOf(young, 14)] }],
    })
    expect(list.lots.map(({ lot, stems }) => [lot.id.cut, stems])).toEqual([['2026-06-01', 16], ['2026-06-03', 24]])
  })

  test('means the stems of a line that was looked at for it once, and the rest for others', () => {
    const list = listOf({ lines: [{ id: l, bunches: 1 }, { id: m, bunches: 1 }], lots: [[old, 20]], plan: [{ line: l, more: 1, from: [stemsOf(old, 10)] }] })
    expect([list.lots.map(({ stems }) => stems), list.short.size]).toEqual([[20], 0])
  })

  interface Case extends Shop {
    readonly name: string
    readonly fetched: number
    readonly short: Partial<Record<Unfetched, number>>
  }
  const four = [{ id: l, bunches: 4 }]
  const all = { line: l, more: 4, from: [stemsOf(old, 40)] }
  test.each<Case>([
    { name: 'there are too few stems', lines: four, lots: [[old, 29]], fetched: 20, short: { none: 2 } },
    { name: 'there are none of the kind', lines: four, lots: [[lotOf('2026-06-01', { colour: 'oyster' }), 90]], fetched: 0, short: { none: 4 } },
    { name: 'they are past their life', lines: four, lots: [[lotOf('2026-05-01'), 90]], fetched: 0, short: { none: 4 } },
    { name: 'it is all or nothing and there is not all of it', lines: [{ id: l, bunches: 3, whole: true }, { id: m, bunches: 1 }], lots: [[old, 26]], fetched: 10, short: { none: 3 } },
    { name: 'the line was left out', lines: four, lots: [[old, 50]], plan: [{ line: l }], wished: { refused: [l] }, fetched: 0, short: { left_out: 4 } },
    { name: 'the line was left out since the plan', lines: four, lots: [[old, 50]], plan: [all], wished: { refused: [l] }, fetched: 0, short: { left_out: 4 } },
    { name: 'the line was pinned', lines: four, lots: [[old, 50]], plan: [{ line: l, more: 3, from: [stemsOf(old, 30)] }], wished: { pinned: { [l]: 3 } }, fetched: 30, short: { left_out: 1 } },
    { name: 'the line was pinned, and to more than there is', lines: four, lots: [[old, 15]], plan: [{ line: l, more: 1, from: [stemsOf(old, 10)] }], wished: { pinned: { [l]: 3 } }, fetched: 10, short: { none: 2, left_out: 1 } },
    { name: 'they pay less than the floor', lines: four, lots: [[old, 50]], floor: 51, fetched: 0, short: { kept: 4 } },
    { name: 'too few are above the floor', lines: four, lots: [[old, 50], [lotOf('2026-06-01', { grade: 'second' }), 14]], floor: 51, fetched: 10, short: { kept: 3 } },
    { name: 'their stems go to others', lines: [{ id: l, bunches: 2 }, { id: m, bunches: 3 }], lots: [[old, 36]], plan: [{ line: l }, { line: m, more: 3, from: [stemsOf(old, 30)] }], fetched: 30, short: { elsewhere: 2 } },
    { name: 'some of their stems go to others, and there were too few anyhow', lines: [{ id: l, bunches: 1, stems: 40 }, { id: m, bunches: 3 }], lots: [[old, 36]], plan: [{ line: l }, { line: m, more: 3, from: [stemsOf(old, 30)] }], fetched: 30, short: { none: 1 } },
    { name: 'the stems came since the plan', lines: four, lots: [[old, 50]], plan: [{ line: l, more: 1, from: [stemsOf(old, 10)] }], fetched: 10, short: { unplanned: 3 } },
    { name: 'nobody told how large they are', lines: [{ id: l, bunches: 2, stems: 0 }], lots: [[old, 50]], fetched: 0, short: { size: 2 } },
  ])('says of bunches for which nothing is fetched that $name', ({ fetched, short, ...shop }) => {
    const list = listOf(shop)
    expect(list.lots.reduce((sum, { stems }) => sum + stems, 0)).toBe(fetched)
    expect(Object.fromEntries(list.short)).toEqual(short)
  })
})
