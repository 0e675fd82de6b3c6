import { expect, it } from 'vitest'
import type { BedID, ColourID, Day } from '../crop/nouns'
import { deliveriesOf, slipsOf } from './day_papers'
import { day, farmThatSold, lineWith, lotWith, ordered, packed } from './testing/sold'

const older = lotWith({ cut: '2026-06-01' as Day })
const other = lotWith({ bed: 'w' as BedID, colour: 'oyster' as ColourID })

const farm = farmThatSold(
  ordered('o1', 'Aster', [lineWith('a', { bunches: 4 }), lineWith('b')]), ordered('o2', 'Bell', [lineWith('c')]),
  packed('p1', 'a', 'Aster', 2, [[lotWith(), 20]]), packed('p2', 'a', 'Aster', 1, [[older, 6], [lotWith(), 4]]),
  packed('p3', 'gone', 'Bell', 1, [[other, 10]]),
)

it('what several devices packed for a line adds up, and what is packed for no line stands apart', () => {
  const told = deliveriesOf(farm, day).map(({ order, buyer, bunches, lines }) => ({ order, buyer, bunches, lines: lines.map((line) => [line.id, line.bunches, line.line?.bunches]) }))
  expect(told).toEqual([
    { order: 'o1', buyer: 'Aster', bunches: 3, lines: [['a', 3, 4], ['b', 0, 2]] },
    { order: 'o2', buyer: 'Bell', bunches: 0, lines: [['c', 0, 2]] },
    { order: '', buyer: 'Bell', bunches: 1, lines: [['gone', 1, undefined]] },
  ])
})

it('a line names its lots, the oldest first', () => {
  expect(deliveriesOf(farm, day)[0]!.lines[0]!.lots.map(({ lot, stems }) => [lot.cut, stems])).toEqual([['2026-06-01', 6], ['2026-06-03', 24]])
})

it('there is a slip for each bunch, numbered within its line', () => {
  expect(slipsOf(deliveriesOf(farm, day)).map(({ buyer, line, n }) => `${buyer} ${line.id} ${n}`)).toEqual(['Aster a 1', 'Aster a 2', 'Aster a 3', 'Bell gone 1'])
})

it('what was packed of an order goes with it to the day that it was moved to', () => {
  const later = '2026-06-05' as Day
  const moved = farmThatSold(ordered('o1', 'Aster', [lineWith('a', { bunches: 4 })], later), packed('p1', 'a', 'Aster', 2, [[lotWith(), 20]]))
  expect(deliveriesOf(moved, day)).toEqual([])
  expect(deliveriesOf(moved, later).map(({ order, bunches }) => [order, bunches])).toEqual([['o1', 2]])
})

it('a day on which nothing is due or packed has no papers', () => {
  expect(deliveriesOf(farm, '2026-06-05' as Day)).toEqual([])
})
