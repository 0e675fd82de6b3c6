import { signal } from '@preact/signals'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { Random } from '../../proxy/random'
import type { Ask, AskID } from '../crop/ahead_nouns'
import { addDays } from '../crop/day'
import type { ColourID, Day, Farm, Millimetres } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { cutVisit, day, sellingFarm } from '../crop/testing/cutting'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'
import { clashesNow, followClashes, someOf } from './clashes_now'
import { forecast, type ForecastAnswer } from './forecast'
import { drawnSeason } from './testing/drawn_season'

const due = addDays(day, 1)

/** Of 50 draws, more than are served at once, in which nothing comes before July. */
function answer(): ForecastAnswer {
  const draws = drawnSeason({ n: 50, first: '2026-06-29' as Day, weeks: 2, colours: ['ember' as ColourID], lengths: [0], heaviest: 100, chance: new Random(5) })
  return { draws } as ForecastAnswer
}

/** Fifty stems were promised for tomorrow; so many lie in the cooler. */
function farmWith(stems: number): Farm {
  const farm = sellingFarm({ lines: [{ stems: 50, due }], visits: stems === 0 ? [] : [cutVisit('bench', 'A', 'ember first 50', stems)] })
  const ask: Ask = {
    id: 'l0' as AskID, buyer: '', note: '', stems: 50, colours: [], grade: '', length: 0 as Millimetres, from: due, due, taken: day, person: '', answer: 'promised',
    offered: 50, chance: 990, order: 'o0' as Ask['order'], price: 0 as Cents,
  }
  return { ...farm, ahead: { ...farm.ahead, asks: new Map([[ask.id, ask]]) } }
}

it('clashes are known once all draws are served, some at a time', () => {
  const [farm, told] = [farmWith(0), answer()]
  expect([someOf(farm, told, day), someOf(farm, told, day)]).toEqual(['later', 'later'])
  expect(someOf(farm, told, day)).toMatchObject([{ line: { id: 'l0' }, chance: 0 }])
})

it.each([
  ['without a forecast', farmWith(0), undefined],
  ['of a forecast that cannot be read', farmWith(0), { draws: { ...answer().draws, coded: '' } } as ForecastAnswer],
  ['where nothing was promised', sellingFarm({ lines: [{ stems: 50, due }] }), answer()],
])('%s there are none, at once', (_, farm, told) => {
  vi.spyOn(console, 'error').mockImplementation(() => undefined)
  expect(someOf(farm, told, day)).toEqual([])
})

beforeEach(() => { vi.useFakeTimers() })
afterEach(() => {
  vi.useRealTimers()
  vi.restoreAllMocks()
})

it('what comes into the cooler is looked at, though no sale changes', () => {
  const [short, enough] = [farmWith(0), farmWith(60)]
  const farm = signal(short)
  const notebook = { farm, kept: () => undefined } as unknown as Notebook
  today.value = day
  forecast.answer.value = answer()
  const stop = followClashes(notebook)
  vi.advanceTimersByTime(100)
  expect(clashesNow.value.map(({ line }) => line.id)).toEqual(['l0'])
  farm.value = { ...short, lots: enough.lots }
  vi.advanceTimersByTime(6_000)
  expect(clashesNow.value).toEqual([])
  stop()
})
