import { expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import type { Ask, AskID } from '../crop/ahead_nouns'
import { addDays } from '../crop/day'
import type { ColourID, Day, Farm, Millimetres } from '../crop/nouns'
import type { Cents, Order } from '../crop/sale_nouns'
import { day, type LineTold, sellingFarm } from '../crop/testing/cutting'
import { answerTo, safeAt } from './asking'
import { clashes } from './clashes'
import { unpackDraws } from './draws'
import { drawnSeason } from './testing/drawn_season'

const due = addDays(day, 14)
const draws = unpackDraws(drawnSeason({ n: 200, first: '2026-06-01' as Day, weeks: 5, colours: ['ember' as ColourID], lengths: [0], heaviest: 300, chance: new Random(5) }))

const alone = answerTo(sellingFarm({}), draws, day, { stems: 1, colours: [], grade: '', length: 0 as Millimetres, from: due, due })
const at = (odds: number) => (alone.kind === 'told' ? safeAt(alone, odds) : 0)
/** The first is had in 19 of 20 cases, both together in seven of ten. */
const [first, second] = [at(0.95), at(0.7) - at(0.95)]

/** Two promises of the same day, the second taken later; what was told of each, per mille, 0 where it was never asked. */
function farmOf(told: readonly [number, number], lines: readonly [number, number], breakCost = 0): Farm {
  const farm = sellingFarm({ lines: lines.map((stems): LineTold => ({ stems, due })), terms: { breakCost } })
  const orders = new Map([...farm.sales.orders].map(([id, order], i): [Order['id'], Order] => [id, { ...order, taken: addDays(day, i - 5) }]))
  const asks = told.flatMap((chance, i): Ask[] => (chance === 0 ? [] : [{
    id: `l${i}` as AskID, buyer: '', note: '', stems: lines[i]!, colours: [], grade: '', length: 0 as Millimetres, from: due, due, taken: day, person: '', answer: 'promised',
    offered: lines[i]!, chance, order: `o${i}` as Ask['order'], price: 0 as Cents,
  }]))
  return { ...farm, sales: { ...farm.sales, orders }, ahead: { ...farm.ahead, asks: new Map(asks.map((ask) => [ask.id, ask])) } }
}

const found = (farm: Farm) => clashes(farm, draws, day).map(({ line, chance, safe }) => ({ line: line.id as string, chance, safe }))

it('two promises made apart that the stems do not reach for: the later one is told, with how many are safe of it', () => {
  expect(found(farmOf([990, 990], [first, 1]))).toEqual([])
  const [clash, ...others] = found(farmOf([990, 990], [first, second]))
  expect(others).toEqual([])
  expect(clash).toMatchObject({ line: 'l1' })
  expect(clash!.chance).toBeGreaterThanOrEqual(0.7)
  expect(clash!.chance).toBeLessThan(0.75)
  expect(clash!.safe).toBe(at(0.9) - first)
})

it.each([
  ['was told about as low already', [990, 790], 0],
  ['was never asked about', [990, 0], 0],
  ['is at odds that the farm takes', [990, 990], 100],
] as const)('nothing is told of one that %s', (_, told, breakCost) => {
  expect(found(farmOf(told, [first, second], breakCost))).toEqual([])
})

it('nothing is told before anything is promised', () => {
  expect(found(farmOf([0, 0], [70, 700]))).toEqual([])
})
