import { describe, expect, it } from 'vitest'
import type { BedID, Day, Millimetres, PlantID, PlantingID, Season, StockID } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, stockWith } from '../crop/testing/nouns'
import { freshStock, freshTray, needsLicence, readTray, speciesOf, type TrayForm, type TrayProblem, trayOf } from './tray'

const today = '2026-05-20' as Day
const ids = ['new stock', 'new bed'] as unknown as readonly [StockID, BedID]
const bed = bedWith({ lines: 2, length: 9_000 as Millimetres })
const farm = farmWith({
  beds: [bed], stocks: [stockWith(), stockWith({ id: 's2' as StockID, species: 'Phlox paniculata' }), stockWith({ id: 's3' as StockID, species: 'Phlox paniculata' })],
  plantings: [plantingWith(), plantingWith({ id: 'later' as PlantingID, stock: 's2' as StockID, planted: '2026-04-01' as Day })],
  plants: [plantWith({ id: 'a' as PlantID, line: 1, number: 1 }), plantWith({ id: 'c' as PlantID, line: 1, number: 4 })],
})

function read(told: Partial<TrayForm>, of = farm) {
  return readTray({ ...freshTray(of, bed.id, today, ids, 'Bed 9'), ...told }, of, today)
}

const at = (places: readonly { line: number; number: number }[]) => places.map(({ line, number }) => `${line}/${number}`)

describe('a fresh form', () => {
  it('of an empty farm lacks the name of a stock alone', () => {
    const plan = readTray(freshTray(farmWith({}), undefined, today, ids, 'Bed 1'), farmWith({}), today)
    expect([plan.problems, plan.bed.name, plan.lines, plan.places.length]).toEqual([['stock'], 'Bed 1', { from: 1, to: 4, first: 1 }, 72])
  })

  it.each(['division', 'self_sown'] as const)('does not propose a stock of origin %s, which comes in no tray', (origin) => {
    const own = farmWith({ stocks: [stockWith({ origin })], plantings: [plantingWith()] })
    expect(freshTray(own, undefined, today, ids, 'Bed 9').stock).toBe('new stock')
  })

  it('of a farm asks for the bed told and proposes the stock planted last', () => {
    const form = freshTray(farm, bed.id, today, ids, 'Bed 9')
    expect([form.bed, form.stock, freshTray(farm, 'gone' as BedID, today, ids, 'Bed 9').bed]).toEqual(['b', 's2', 'new bed'])
  })
})

describe('what the fields come to', () => {
  it('passes over what is taken, and says how many places that are', () => {
    const plan = read({ plants: '5' })
    expect([at(plan.places), plan.passed, plan.gaps]).toEqual([['1/2', '1/3', '1/5', '2/1', '2/2'], 2, 2])
  })

  it('fills gaps only where that is wanted', () => {
    const plan = read({ plants: '2', gapsOnly: true })
    expect([at(plan.places), plan.passed, plan.problems]).toEqual([['1/2', '1/3'], 0, []])
  })

  it('takes the day’s first season by the rule, or as it was said', () => {
    const plan = read({ planted: '2025-09-15' })
    expect([plan.proposed, plan.firstSeason]).toEqual([2026, 2026])
    expect(read({ planted: '2025-09-15', firstSeason: 2025 as Season }).firstSeason).toBe(2025)
  })

  it('fills any line of a bed whose lines are not told', () => {
    const open = farmWith({ beds: [bedWith()], stocks: [stockWith()] })
    expect(at(read({ plants: '2', from: '7' }, open).places)).toEqual(['7/1', '7/2'])
  })
})

describe('nothing is planted', () => {
  const cases: [string, Partial<TrayForm>, TrayProblem[]][] = [
    ['of a stock without a name', { stock: 'new stock' as StockID }, ['stock']],
    ['in a bed without a name', { bed: 'new bed' as BedID, bedForm: { name: ' ', length: '', width: '', lines: '4' } }, ['bed']],
    ['in a bed of which a measure is no number', { bed: 'new bed' as BedID, bedForm: { name: 'X', length: 'x', width: '', lines: '4' } }, ['bed_measure']],
    ['tomorrow', { planted: '2026-05-21' }, ['day']],
    ['on no day', { planted: '' }, ['day']],
    ['beyond the bed’s lines', { to: '3' }, ['lines']],
    ['in lines that run backwards', { from: '2', to: '1' }, ['lines']],
    ['from number 0', { first: '0' }, ['first']],
    ['without plants', { plants: '0' }, ['plants']],
    ['of a number that is none', { plants: 'many' }, ['plants']],
    ['of more than an operation holds', { plants: '5001' }, ['most']],
    ['in gaps where there is none', { from: '2', gapsOnly: true, plants: '1' }, ['gaps_none']],
    ['in fewer gaps than plants', { gapsOnly: true, plants: '3' }, ['gaps_few']],
  ]
  it.each(cases)('%s', (_, told, problems) => {
    const plan = read(told)
    expect(plan.problems).toEqual(problems)
  })

  it('but 5,000 at once are', () => {
    expect(read({ plants: '5000' }).places).toHaveLength(5_000)
  })
})

it('a tray gives each place its code and an id of its own', () => {
  let n = 0
  const tray = trayOf(read({ plants: '2', from: '2' }), 'p' as PlantingID, ['A', 'C'], () => String(n++))
  expect(tray.plants).toEqual([
    { id: '0', code: 'A', place: { bed: 'b', line: 2, number: 1 } }, { id: '1', code: 'C', place: { bed: 'b', line: 2, number: 2 } },
  ])
  expect(tray.planting).toEqual({ id: 'p', stock: 's2', bed: 'b', planted: today, firstSeason: 2026 })
})

it('species of the farm are offered once each, and proposed where there is but one', () => {
  expect(speciesOf(farm)).toEqual(['Phlox paniculata'])
  expect(freshStock(farm).species).toBe('Phlox paniculata')
  expect(freshStock(farmWith({ stocks: [...farm.stocks.values(), stockWith({ id: 's4' as StockID, species: 'Achillea millefolium' })] })).species).toBe('')
})

it.each([[true, 'division', true], [true, 'bought', false], [false, 'division', false]] as const)('protected %s and from %s asks for a licence: %s', (on, origin, asks) => {
  expect(needsLicence({ protected: on, origin })).toBe(asks)
})
