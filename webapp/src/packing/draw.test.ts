import { describe, expect, test } from 'vitest'
import { cooler } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import type { ColourID, Grade, Millimetres } from '../crop/nouns'
import type { Cents, Channel, LineID, LotID } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import { drawBunch, meantFor } from './draw'
import { dueLines } from './due_lines'
import type { PackingAnswer } from './packing_answer'
import { benchFacts, lineWith, lotOf, orderedFacts, packDay, planWith } from './testing/shop'
import { meets, paysFor, takenFor } from './wanted'

const [old, young] = [lotOf('2026-06-01'), lotOf('2026-06-03')]
const [m, l] = ['m' as LineID, 'l' as LineID]

const stemsOf = (lot: LotID, stems: number) => ({ lot: lotCell(lot), stems })

function shop(lines: readonly Partial<Parameters<typeof lineWith>[0]>[], ...lots: readonly (readonly [LotID, number])[]) {
  const farm = farmSaid([...orderedFacts(...lines.map((told) => lineWith(told))), ...lots.flatMap(([lot, stems]) => benchFacts(lot, stems))])
  return { due: dueLines(farm.sales, packDay), lots: cooler(farm, packDay) }
}

const floorOf = (first: number) => ({ floor: new Map<Grade, Cents>([['first', first as Cents]]) })

describe('the next bunch', () => {
  interface Case {
    readonly name: string
    readonly lots: readonly (readonly [LotID, number])[]
    readonly plan?: PackingAnswer
    readonly channel?: Pick<Channel, 'floor'>
    readonly kept?: readonly Grade[]
    readonly overruled?: boolean
    readonly want: readonly (readonly [LotID, number])[] | undefined
  }
  const cases: Case[] = [
    { name: 'takes the oldest stems first', lots: [[young, 30], [old, 4]], want: [[old, 4], [young, 6]] },
    { name: 'is none where stems are few', lots: [[old, 9]], want: undefined },
    { name: 'passes over what is past its life', lots: [[lotOf('2026-05-20'), 30], [young, 10]], want: [[young, 10]] },
    { name: 'passes over another colour', lots: [[lotOf('2026-06-01', { colour: 'oyster' }), 30], [young, 10]], want: [[young, 10]] },
    { name: 'follows the plan, though it is of younger stems', lots: [[old, 20], [young, 20]], plan: planWith([{ line: l, more: 1, from: [stemsOf(young, 10)] }]), want: [[young, 10]] },
    {
      name: 'leaves what the plan means for others', lots: [[old, 12], [young, 20]],
      plan: planWith([{ line: m, more: 1, from: [stemsOf(old, 10)] }, { line: l, more: 0, from: [] }]), want: [[old, 2], [young, 8]],
    },
    {
      name: 'is none where all is meant for others', lots: [[old, 12]],
      plan: planWith([{ line: m, more: 1, from: [stemsOf(old, 10)] }]), want: undefined,
    },
    { name: 'takes nothing of the plan that is of another colour than the line is now', lots: [[lotOf('2026-06-01', { colour: 'oyster' }), 30], [young, 10]], plan: planWith([{ line: l, more: 1, from: [stemsOf(lotOf('2026-06-01', { colour: 'oyster' }), 10)] }]), want: [[young, 10]] },
    { name: 'makes up what the plan took for there and is not', lots: [[old, 4], [young, 9]], plan: planWith([{ line: l, more: 1, from: [stemsOf(old, 10)] }]), want: [[old, 4], [young, 6]] },
    { name: 'is of no stem below its floor, where this device knows it', lots: [[old, 20]], channel: floorOf(51), want: undefined },
    { name: 'pays the floor itself', lots: [[old, 20]], channel: floorOf(50), want: [[old, 10]] },
    { name: 'is of no grade that the plan keeps back, where this device knows no floor', lots: [[old, 20], [lotOf('2026-06-03', { grade: 'second' }), 20]], kept: ['first'], want: [[lotOf('2026-06-03', { grade: 'second' }), 10]] },
    {
      name: 'takes what is meant for others last, where an owner overrules', lots: [[old, 12], [young, 4]], overruled: true,
      plan: planWith([{ line: m, more: 1, from: [stemsOf(old, 10)] }]), want: [[old, 6], [young, 4]],
    },
    { name: 'goes below no floor even then', lots: [[old, 20]], channel: floorOf(51), overruled: true, want: undefined },
  ]
  test.each(cases)('$name', ({ lots: held, plan, channel, kept = [], overruled = false, want }) => {
    const { due, lots } = shop([{ id: l }, { id: m }], ...held)
    const bunch = drawBunch({ due: due.find((one) => one.line.id === l)!, channel, kept, lots, meant: meantFor(plan, due), overruled })
    expect(bunch && [...bunch]).toEqual(want?.map(([lot, n]) => [lotCell(lot), n]))
  })
})

describe('what the plan still means', () => {
  const oyster = lotOf('2026-06-01', { colour: 'oyster' })
  const plan = planWith([{ packed: 1, more: 2, had: [stemsOf(old, 10)], from: [stemsOf(old, 4), stemsOf(young, 16)] }])
  interface Case {
    readonly name: string
    readonly bunches: number
    readonly packed: readonly (readonly [LotID, number])[]
    readonly line?: Parameters<typeof lineWith>[0]
    readonly want: readonly (readonly [LotID, number])[]
  }
  test.each<Case>([
    { name: 'is all of it at first, what was packed before not counted again', bunches: 1, packed: [[old, 10]], want: [[old, 4], [young, 16]] },
    { name: 'is the rest once a bunch is packed as planned', bunches: 2, packed: [[old, 14], [young, 6]], want: [[young, 10]] },
    { name: 'is no more than the bunches that are open, where one was packed of other lots', bunches: 2, packed: [[old, 10], [oyster, 10]], want: [[old, 4], [young, 6]] },
    { name: 'is nothing where the line was filled otherwise', bunches: 4, packed: [[old, 10], [oyster, 30]], want: [] },
    { name: 'is nothing where fewer are ordered now and all are packed', bunches: 1, packed: [[old, 10]], line: { bunches: 1 }, want: [] },
    { name: 'is less where fewer are ordered now', bunches: 1, packed: [[old, 10]], line: { bunches: 2 }, want: [[old, 4], [young, 6]] },
    { name: 'is nothing that the line would not take now', bunches: 1, packed: [[old, 10]], line: { colours: ['oyster' as ColourID] }, want: [] },
  ])('$name', ({ bunches, packed, line, want }) => {
    const [due] = shop([{ id: l, ...line }]).due
    const now = { ...due!, packed: { bunches, stems: new Map(packed.map(([lot, n]) => [lotCell(lot), n] as const)) } }
    expect([...meantFor(plan, [now]).of.get(l) ?? []]).toEqual(want.map(([lot, n]) => [lotCell(lot), n]))
  })

  test('is nothing for a line that is due no longer, so that others may have its stems', () => {
    const { due, lots } = shop([{ id: l }], [old, 12])
    const cancelled = planWith([{ line: m, more: 1, from: [stemsOf(old, 10)] }])
    const bunch = drawBunch({ due: due[0]!, channel: undefined, kept: [], lots, meant: meantFor(cancelled, due) })
    expect(bunch && [...bunch]).toEqual([[lotCell(old), 10]])
  })
})

describe('what may go to a line', () => {
  test.each<[string, LotID, Partial<Parameters<typeof lineWith>[0]>, boolean]>([
    ['a better grade, and longer', lotOf('2026-06-01', { grade: 'extra', cm: 60 }), { grade: 'first', length: 500 as Millimetres }, true],
    ['a lesser grade', lotOf('2026-06-01', { grade: 'second' }), { grade: 'first' }, false],
    ['too short', lotOf('2026-06-01', { cm: 40 }), { length: 500 as Millimetres }, false],
    ['an untold grade where none is asked', lotOf('2026-06-01', { grade: '' }), {}, true],
    ['an untold grade where one is', lotOf('2026-06-01', { grade: '' }), { grade: 'second' }, false],
    ['an untold length where one is asked', lotOf('2026-06-01', { cm: 0 }), { length: 300 as Millimetres }, false],
    ['an untold colour where any will do', lotOf('2026-06-01', { colour: '' }), { colours: [] }, true],
    ['an untold colour where one is asked', lotOf('2026-06-01', { colour: '' }), {}, false],
  ])('%s', (_, lot, told, want) => {
    const line = lineWith(told)
    expect(meets(lot, line, line.colours)).toBe(want)
  })

  test('a substitute, unless the line is exact', () => {
    const accepts = new Map([['ember' as ColourID, ['coral', 'ember'] as ColourID[]]])
    expect(takenFor(lineWith(), { accepts })).toEqual(['ember', 'coral'])
    expect(takenFor(lineWith({ exact: true }), { accepts })).toEqual(['ember'])
    expect(takenFor(lineWith({ colours: [] }), { accepts })).toEqual([])
  })

  test('at any price where none is agreed yet', () => {
    expect(paysFor('first', lineWith({ price: 0 as Cents }), floorOf(90))).toBe(true)
    expect(paysFor('', lineWith(), floorOf(90))).toBe(true)
  })
})
