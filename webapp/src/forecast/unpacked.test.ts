import { afterEach, expect, it, vi } from 'vitest'
import { Random } from '../../proxy/random'
import type { ColourID, Day } from '../crop/nouns'
import { unpackDraws } from './draws'
import type { ForecastAnswer, PackedDraws } from './forecast'
import { drawnSeason } from './testing/drawn_season'
import type { Unpacking } from './unpack_worker'
import { drawsOf, drawsToShow, whyNoDraws } from './unpacked'

/** A worker that answers when it is told to. */
class SlowWorker extends EventTarget {
  static readonly open: SlowWorker[] = []
  private asked: PackedDraws | undefined
  postMessage(packed: PackedDraws): void {
    this.asked = packed
    SlowWorker.open.push(this)
  }
  terminate(): void {}
  answer(): void {
    this.dispatchEvent(Object.assign(new Event('message'), { data: { draws: unpackDraws(this.asked!) } satisfies Unpacking }))
  }
  fail(): void {
    this.dispatchEvent(Object.assign(new Event('error'), { message: 'no memory' }))
  }
}

const answer = (seed: number) => ({
  draws: drawnSeason({ n: 5, first: '2026-06-01' as Day, weeks: 2, colours: ['ember' as ColourID], lengths: [0], heaviest: 50, chance: new Random(seed) }),
}) as ForecastAnswer

afterEach(() => {
  vi.unstubAllGlobals()
  vi.restoreAllMocks()
})

it('draws are unpacked aside, and a page shows those before meanwhile', () => {
  vi.stubGlobal('Worker', SlowWorker)
  const [first, second] = [answer(1), answer(2)]
  expect([drawsOf(first), drawsToShow(first)]).toEqual(['unpacking', 'unpacking'])
  SlowWorker.open.pop()!.answer()
  const draws = drawsOf(first)
  expect(draws).toEqual(unpackDraws(first.draws))
  expect([drawsOf(second), drawsToShow(second)]).toEqual(['unpacking', draws])
  SlowWorker.open.pop()!.answer()
  expect(drawsToShow(second)).toEqual(unpackDraws(second.draws))
})

it('of a forecast that says the same again they are the same, at once', () => {
  vi.stubGlobal('Worker', SlowWorker)
  expect(drawsOf(answer(2))).toBe(drawsOf(answer(2)))
  expect(SlowWorker.open).toEqual([])
})

it('where the worker breaks, and where there are none, they are unpacked here', () => {
  vi.spyOn(console, 'error').mockImplementation(() => undefined)
  vi.stubGlobal('Worker', SlowWorker)
  const third = answer(3)
  drawsOf(third)
  SlowWorker.open.pop()!.fail()
  expect(drawsOf(third)).toEqual(unpackDraws(third.draws))
  vi.unstubAllGlobals()
  expect(drawsOf(answer(4))).toEqual(unpackDraws(answer(4).draws))
})

it('what cannot be read is said to be unreadable', () => {
  const errors = vi.spyOn(console, 'error').mockImplementation(() => undefined)
  const broken = { draws: { ...answer(5).draws, coded: '' } } as ForecastAnswer
  expect([drawsOf(broken), drawsToShow(broken)]).toEqual(['unreadable', 'unreadable'])
  expect(errors).toHaveBeenCalledTimes(1)
  expect(whyNoDraws('unreadable', 'no')).toBe('promise.forecast.unreadable')
  expect(whyNoDraws(undefined, 'yes')).toBe('promise.forecast.asking')
})
