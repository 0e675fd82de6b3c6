import { describe, expect, it } from 'vitest'
import { cutList } from '../crop/cut_list'
import { cutPlan } from '../crop/cut_plan'
import { addDays } from '../crop/day'
import type { Least } from '../crop/line_needs'
import type { Colour, ColourID, Farm, Millimetres, Plant, Visit } from '../crop/nouns'
import { beds, cutVisit, day, type LineTold, plantsIn, sellingFarm } from '../crop/testing/cutting'
import { colourWith } from '../crop/testing/nouns'
import { mostAhead } from './cut_today'
import { enoughText, leastName, shortText } from './cut_words'

const colours = new Map(['ember', 'oyster'].map((name) => [name as ColourID, colourWith({ id: name as ColourID, name })] as const)) satisfies ReadonlyMap<ColourID, Colour>
const standing = [...plantsIn('A', 'ember', 1), ...plantsIn('B', 'ember', 1)]
const farmOf = (lines: LineTold[], visits: Visit[] = [], plants: Plant[] = standing): Farm => ({ ...sellingFarm({ plants, visits, lines, terms: { overCut: 20 } }), colours })
const planOf = (farm: Farm) => cutPlan(farm, day, addDays(day, 2), beds)
const ember: LineTold = { stems: 100, colours: 'ember' }

describe('when to stop', () => {
  it.each<[string, Visit[], string]>([
    ['the bed’s number is reached and another lacks some', [cutVisit('bed_cut', 'A', 'ember - -', 64)], 'Enough ember from this bed: 64 of 60.'],
    ['all that was asked is reached', [cutVisit('bed_cut', 'A', 'ember - -', 64), cutVisit('bed_cut', 'B', 'ember - -', 60)], 'Enough ember: 124 of 120. Leave the rest standing.'],
    ['the bed alone gave it all', [cutVisit('bed_cut', 'A', 'ember - -', 120)], 'Enough ember: 120 of 120. Leave the rest standing.'],
  ])('%s', (_, visits, want) => {
    const farm = farmOf([ember], visits)
    const list = cutList(farm, planOf(farm))
    expect(enoughText(farm, list, list.rows[0]!)).toBe(want)
  })
  it('another bed gave what was asked of this one, and a third lacks some', () => {
    const farm = farmOf([ember], [cutVisit('bed_cut', 'B', 'ember - -', 80)], [...standing, ...plantsIn('C', 'ember', 1)])
    const list = cutList(farm, planOf(farm))
    expect(list.rows.map((row) => enoughText(farm, list, row))[2]).toBe('Other beds have given enough ember: none from here.')
  })
  it('another colour gave all of a mixed line', () => {
    const mixed = { ...ember, colours: 'ember oyster' }
    const farm = farmOf([mixed], [cutVisit('bed_cut', 'B', 'oyster - -', 120)], [...plantsIn('A', 'ember', 1), ...plantsIn('B', 'oyster', 1)])
    const list = cutList(farm, planOf(farm))
    expect(enoughText(farm, list, list.rows[0]!)).toBe('Other colours have filled the lines: no ember is needed.')
  })
})

it.each<[string, Least, string]>([
  ['neither', { grade: '', length: 0 as Millimetres }, 'any grade and length'],
  ['a grade', { grade: 'second', length: 0 as Millimetres }, 'second or better'],
  ['the best grade', { grade: 'extra', length: 0 as Millimetres }, 'extra'],
  ['both', { grade: 'first', length: 500 as Millimetres }, 'first or better, 50+\u00a0cm'],
])('what is asked at least: %s', (_, least, want) => expect(leastName(farmOf([]), least)).toBe(want))

it.each<[string, LineTold, string]>([
  ['of a length', { stems: 20, colours: 'oyster', cm: 60 }, 'Nobody has standing oyster (60+\u00a0cm): 20 stems short for Studio, today.'],
  ['of any', { stems: 1, colours: 'oyster' }, 'Nobody has standing oyster: 1 stem short for Studio, today.'],
])('what no bed can give, %s', (_, line, want) => {
  const farm = farmOf([line])
  expect(planOf(farm).short.map((lack) => shortText(farm, lack, day))).toEqual([want])
})

it('nobody cuts for a day on which the stems would be past their vase life', () => {
  const of = (coolerDays: number) => mostAhead(sellingFarm({ terms: { coolerDays } }).sales)
  expect([of(0), of(3), of(20)]).toEqual([7, 3, 7])
})
