import { describe, expect, test } from 'vitest'
import { cooler } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import type { ColourID, Grade, Millimetres } from '../crop/nouns'
import type { Cents, Channel, LineID, LotID } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import { drawBunch, meantFor } from './draw'
import { dueLines } from './due_lines'
import type { PackingAnswer } from './packing_answer'
import { pickList } from './pick_list'
import { benchFacts, lineWith, lotOf, orderedFacts, packDay } from './testing/shop'
import { meets, paysFor, takenFor } from './wanted'

const [old, young] = [lotOf('2026-06-01'), lotOf('2026-06-03')]
const [m, l] = ['m' as LineID, 'l' as LineID]

const stemsOf = (lot: LotID, stems: number) => ({ lot: lotCell(lot), stems })

/** A plan of the lines told, before anything was packed. */
function planWith(lines: readonly { line: LineID; more: number; from: PackingAnswer['unsold'] }[]): PackingAnswer {
  return {
    arrival: 1, asof: packDay, at: 1, day: packDay, stems: 46, placed: 0, proven: true, unsold: [], top_down: [], pinned: {}, refused: [], wrong: [],
    lines: lines.map((line) => ({ ...line, packed: 0, had: [], priced: true })),
  }
}

function shop(lines: readonly Partial<Parameters<typeof lineWith>[0]>[], ...lots: readonly (readonly [LotID, number])[]) {
  const farm = farmSaid([...orderedFacts(...lines.map((told) => lineWith(told))), ...lots.flatMap(([lot, stems]) => benchFacts(lot, stems))])
  return { due: dueLines(farm.sales, packDay), lots: cooler(farm, packDay) }
}

const floorOf = (first: number) => ({ floor: new Map<Grade, Cents>([['first', first as Cents]]) })

describe('the next bunch', () => {
  const cases: { name: string; lots: readonly (readonly [LotID, number])[]; plan?: PackingAnswer; channel?: Pick<Channel, 'floor'>; want: readonly (readonly [LotID, number])[] | undefined }[] = [
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
  ]
  test.each(cases)('$name', ({ lots: held, plan, channel, want }) => {
    const { due, lots } = shop([{ id: l }, { id: m }], ...held)
    const meant = meantFor(plan, (id) => due.find((one) => one.line.id === id)!.packed)
    const bunch = drawBunch({ due: due.find((one) => one.line.id === l)!, channel, lots, meant })
    expect(bunch && [...bunch]).toEqual(want?.map(([lot, n]) => [lotCell(lot), n]))
  })
})

test('of what the plan meant, what is packed is done with, and what was there before is not counted again', () => {
  const plan: PackingAnswer = { ...planWith([]), lines: [{ line: l, packed: 1, more: 2, priced: true, had: [stemsOf(old, 10)], from: [stemsOf(old, 4), stemsOf(young, 16)] }] }
  const packed = (stems: readonly (readonly [LotID, number])[]) => () => ({ bunches: 0, stems: new Map(stems.map(([lot, n]) => [lotCell(lot), n] as const)) })
  expect(meantFor(plan, packed([[old, 10]])).get(l)).toEqual(new Map([[lotCell(old), 4], [lotCell(young), 16]]))
  expect(meantFor(plan, packed([[old, 14], [young, 6]])).get(l)).toEqual(new Map([[lotCell(young), 10]]))
  expect(meantFor(plan, packed([[old, 24]])).get(l)).toEqual(new Map([[lotCell(young), 16]]))
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

describe('the pick list', () => {
  const channelOf = () => undefined
  test('is of the oldest lots first, and of what is still to be packed', () => {
    const { due, lots } = shop([{ id: l, bunches: 2 }, { id: m, bunches: 1 }], [young, 30], [old, 16])
    const list = pickList({ lines: due, lots, plan: undefined, channelOf })
    expect(list.lots.map(({ lot, stems }) => [lot.id.cut, stems])).toEqual([['2026-06-01', 16], ['2026-06-03', 14]])
    expect(list.short).toBe(0)
  })

  test('follows the plan, and tells for how many bunches there is nothing', () => {
    const { due, lots } = shop([{ id: l, bunches: 2 }, { id: m, bunches: 3 }], [young, 30], [old, 16])
    const plan = planWith([{ line: l, more: 1, from: [stemsOf(young, 10)] }, { line: m, more: 3, from: [stemsOf(old, 16), stemsOf(young, 14)] }])
    const list = pickList({ lines: due, lots, plan, channelOf })
    expect(list.lots.map(({ lot, stems }) => [lot.id.cut, stems])).toEqual([['2026-06-01', 16], ['2026-06-03', 24]])
    expect(list.short).toBe(1)
  })
})
