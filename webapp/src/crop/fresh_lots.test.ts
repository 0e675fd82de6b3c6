import { describe, expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { byLife, cooler, sellable } from './cooler'
import { addDays } from './day'
import { freshLots, sellableOn } from './fresh_lots'
import { parseLotCell } from './lots'
import type { Day } from './nouns'
import type { Shrink, ShrinkID } from './sale_nouns'
import { cutVisit, day, packedWith, salesOf, sellingFarm } from './testing/cutting'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
it(`what is fresh is what the cooler holds that was cut before and has vase life left, also of a farm that says nothing of it (seed ${seed})`, () => {
  const random = new Random(seed)
  for (let run = 0; run < 200; run++) {
    const cell = () => `${random.pick(['A', 'B'])}|${addDays(day, -random.between(0, 9))}|ember|${random.pick(['first', 'second'])}|400|500`
    const bench = Array.from({ length: 12 }, () => cutVisit('bench', random.pick(['A', 'B']), `ember ${random.pick(['first', 'second', 'out'])} 40`, random.between(1, 20), addDays(day, -random.between(-1, 9))))
    const packed = Array.from({ length: 4 }, (_, i) => packedWith(`l${i}`, 1, { [cell()]: random.between(1, 20) }))
    const shrink = Array.from({ length: 4 }, (_, i): Shrink => ({ id: `s${i}` as ShrinkID, lot: parseLotCell(cell())!, stems: random.between(1, 9), reason: 'wilted', what: '', date: day, person: '' }))
    const farm = sellingFarm({ visits: bench, packed, shrink, terms: { coolerDays: random.pick([0, 3]) } })
    expect(sellable(farm, day)).toEqual(byLife(cooler(farm, day)).fresh)
    const want = cooler(farm, day).filter(({ id, left, daysLeft }) => left > 0 && daysLeft >= 0 && id.cut < day).map(({ id, left }) => ({ id, left }))
    const byCell = (a: { id: object }, b: { id: object }) => (JSON.stringify(a.id) < JSON.stringify(b.id) ? -1 : 1)
    expect(freshLots(farm, day).map(({ id, left }) => ({ id, left })).sort(byCell)).toEqual([...want].sort(byCell))
  }
})

describe('a lot is sold until its vase life ends', () => {
  it.each<[string, string, boolean]>([
    ['on the day of its cut', '2026-06-03', true], ['on its last day', '2026-06-06', true], ['the day after', '2026-06-07', false], ['not before it is cut', '2026-06-02', false],
  ])('%s', (_, on, want) => {
    const lot = parseLotCell('A|2026-06-03|ember|first|400|500')!
    expect(sellableOn(salesOf({ terms: { coolerDays: 3 } }), lot, on as Day)).toBe(want)
  })
})

it('of lots past their life, which nobody may ever have written off, no more than the day of their cut is looked at', () => {
  const farm = sellingFarm({ visits: Array.from({ length: 20 }, (_, i) => cutVisit('bench', 'A', 'ember first 40', 5, addDays(day, -i))), terms: { coolerDays: 3 } })
  const looked = new Set<Day>()
  const of = new Map([...farm.lots.of].map(([cell, lot]) => [cell, { ...lot, get came() { looked.add(lot.id.cut); return lot.came } }]))
  expect(sellable({ ...farm, lots: { ...farm.lots, of } }, day).length).toBe(4)
  expect([...looked].sort()).toEqual([3, 2, 1, 0].map((days) => addDays(day, -days)))
})
