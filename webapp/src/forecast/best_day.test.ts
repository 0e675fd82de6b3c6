import { expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { addDays } from '../crop/day'
import type { Day, Millimetres } from '../crop/nouns'
import { safeAt } from './asking'
import { bestOf } from './best_day'
import type { Wish } from './demands'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
const monday = '2026-06-08' as Day

/** Wishes of days one after the other, which could have so many stems by day and draw; and how often any was asked. */
function asked(days: readonly Int32Array[]) {
  const told = { asks: 0 }
  const known = new Set<string>()
  const wishes = days.map((_, i): Wish => ({ colours: [], grade: '', length: 0 as Millimetres, from: monday, to: addDays(monday, i) }))
  const asking = ({ to }: Wish) => {
    const most = days[wishes.findIndex((wish) => wish.to === to)]!
    return (draw: number) => {
      if (!known.has(`${to} ${draw}`)) told.asks++ // what was asked once is known
      known.add(`${to} ${draw}`)
      return most[draw]!
    }
  }
  return { told, wishes, promised: { draws: days[0]?.length ?? 0, asking } }
}

it(`is the first of the days of which most is safe, as if every draw were asked (seed ${seed})`, () => {
  const random = new Random(seed)
  for (let run = 0; run < 300; run++) {
    const [draws, odds, widest] = [random.between(1, 120), random.pick([0.5, 0.8, 0.9, 1]), random.pick([0, 2, 40])]
    const days = Array.from({ length: random.between(1, 7) }, () => Int32Array.from({ length: draws }, () => random.between(0, widest)))
    const { promised, wishes } = asked(days)
    const safe = days.map((most) => safeAt({ most: most.slice().sort() }, odds))
    const at = safe.indexOf(Math.max(...safe))
    expect(bestOf(promised, wishes, odds), `run ${run}`).toEqual({ at, most: days[at]!.slice().sort() })
  }
})

it('asks of days that are clearly worse a fifth of the draws', () => {
  const days = [3, 4, 5, 6, 9, 8, 7].map((size) => Int32Array.from({ length: 500 }, (_, draw) => size * (10 + (draw * 7) % 500)))
  const { promised, wishes, told } = asked(days)
  expect(bestOf(promised, wishes, 0.9)?.at).toBe(4)
  expect(told.asks).toBeLessThan(500 + 6 * 100)
})

it('is none without a day, and of no stems where there are no draws', () => {
  expect(bestOf(asked([]).promised, [], 0.9)).toBeUndefined()
  const none = asked([new Int32Array(), new Int32Array()])
  expect(bestOf(none.promised, none.wishes, 0.9)).toMatchObject({ most: new Int32Array() })
})
