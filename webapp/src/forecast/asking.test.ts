import { describe, expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { addDays } from '../crop/day'
import type { ColourID, Day, Millimetres } from '../crop/nouns'
import { cutVisit, day, type LineTold, sellingFarm } from '../crop/testing/cutting'
import { answerTo, askAhead, type Asked, chanceOf, changesOf, helpOf, keepChance, safeAt, type Told } from './asking'
import { cutBy, gradesLowToHigh, unpackDraws, weekDayOf } from './draws'
import { openPromises } from './open_promises'
import { drawnSeason } from './testing/drawn_season'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
const monday = '2026-06-01' as Day // the week of the test farm's day, a Wednesday
const colours = ['ember', 'coral', 'damson'] as ColourID[]
const draws = unpackDraws(drawnSeason({ n: 100, first: monday, weeks: 6, colours: [...colours, ''], lengths: [0, 400, 500], heaviest: 400, chance: new Random(3) }))

const ask = (told: Partial<Asked> = {}): Asked =>
  ({ stems: 50, colours: [], grade: '', length: 0 as Millimetres, from: addDays(day, 7), due: addDays(day, 7), ...told })

function told(asked: Asked, lines: readonly LineTold[] = [], terms = {}): Told {
  const answer = answerTo(sellingFarm({ lines, terms }), draws, day, asked)
  if (answer.kind !== 'told') throw new Error(answer.kind)
  return answer
}

describe('an ask alone', () => {
  const asked = ask({ colours: ['ember' as ColourID], grade: 'first', length: 400 as Millimetres })

  it('is told the plain quantile of the draws', () => {
    const sums = Array.from({ length: draws.n }, (_, draw) => stemsOf(draw, asked)).sort((a, b) => a - b)
    expect([...told(asked).most]).toEqual(sums)
    expect(safeAt(told(asked), 0.9)).toBe(sums[10])
  })

  it('may have what lies in the cooler too, as long as it is good on the day', () => {
    const farm = (cut: string) => sellingFarm({ visits: [cutVisit('bench', 'A', 'ember first 50', 7, cut)] })
    const most = (cut: string) => {
      const answer = answerTo(farm(cut), draws, day, { ...asked, from: addDays(day, 1), due: addDays(day, 1) })
      return answer.kind === 'told' ? answer.most[0]! - none : undefined
    }
    const none = (answerTo(sellingFarm({}), draws, day, { ...asked, from: addDays(day, 1), due: addDays(day, 1) }) as Told).most[0]!
    expect([most(addDays(day, -6)), most(addDays(day, -7))]).toEqual([7, 0])
  })

  it('counts nothing more of a day on which some of the cut came over the bench', () => {
    const today = { from: day, due: day }
    const before = told(ask(today))
    const after = answerTo(sellingFarm({ visits: [cutVisit('bench', 'A', 'ember first 50', 1, day)] }), draws, day, ask(today))
    expect(before.most.at(-1)).toBeGreaterThan(1)
    expect(after).toMatchObject({ most: new Int32Array(draws.n).fill(1) })
  })
})

describe('the chance', () => {
  it(`falls with the number of stems and with every promise, and the safe number keeps its odds (seed ${seed})`, () => {
    const random = new Random(seed)
    for (let run = 0; run < 20; run++) {
      const lines = Array.from({ length: random.between(0, 6) }, (): LineTold => ({
        stems: random.between(1, 40), due: addDays(day, random.between(0, 20)), colours: random.pick(['', 'ember', 'coral damson']), grade: random.pick(['', 'first']),
      }))
      const asked = ask({ colours: random.pick([[], [colours[0]!], colours]) })
      const [alone, beside] = [told(asked), told(asked, lines)]
      for (let n = 1; n < 200; n += 13) {
        expect(chanceOf(beside, n + 13)).toBeLessThanOrEqual(chanceOf(beside, n))
        expect(chanceOf(beside, n)).toBeLessThanOrEqual(chanceOf(alone, n))
      }
      const safe = safeAt(beside, 0.9)
      if (safe > 0) expect(chanceOf(beside, safe)).toBeGreaterThanOrEqual(0.9)
      expect(chanceOf(beside, safe + 1)).toBeLessThan(0.9)
    }
  })

  it('of what is promised and what is asked together is never more than is there', () => {
    const lines = [{ stems: 60, due: addDays(day, 7) }]
    const [alone, beside] = [told(ask()), told(ask(), lines)]
    expect([...beside.most]).toEqual([...alone.most].map((n) => Math.max(0, n - 60)))
  })
})

it('a promise that may be kept with another colour gives way, unless its line is exact', () => {
  const asked = ask({ colours: [colours[0]!] })
  const most = (exact: boolean) => {
    const answer = answerTo(sellingFarm({ lines: [{ stems: 5, due: asked.due, colours: 'ember', exact }], accepts: { ember: 'coral' } }), draws, day, asked)
    return answer.kind === 'told' ? [...answer.most] : []
  }
  const all = [...told(asked).most]
  expect(most(true)).toEqual(all.map((n) => Math.max(0, n - 5)))
  expect(most(false).reduce((sum, n) => sum + n, 0)).toBeGreaterThan(most(true).reduce((sum, n) => sum + n, 0))
})

describe('odds', () => {
  it.each([[0, 0.9], [900, 0.9], [400, 0.8], [100, 0.5]])('of a break cost of %d percent are %d', (breakCost, odds) => {
    expect(keepChance({ breakCost })).toBeCloseTo(odds, 12)
  })

  it.each([[0.9, 1, 2], [1, 1, 1], [0.5, 1, 6], [0.9, 2, 2], [0.5, 4, 4], [0.01, 1, 10]])('of %d in bunches of %d make %d of ten draws safe', (chance, bunch, safe) => {
    expect(safeAt({ most: Int32Array.from([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]) }, chance, bunch)).toBe(safe)
  })
})

describe('when it is for', () => {
  const farm = sellingFarm({})

  it.each([
    ['yesterday is over', { from: addDays(day, -1), due: addDays(day, -1) }, { kind: 'past' }],
    ['this week still has days', { from: monday, due: addDays(monday, 6) }, { kind: 'told' }],
    ['what is cut in the last week can still be had after it', { from: addDays(monday, 42), due: addDays(monday, 42) }, { kind: 'told' }],
    ['behind the season', { from: addDays(monday, 49), due: addDays(monday, 49) }, { kind: 'beyond', last: addDays(monday, 41) }],
  ])('%s', (_, when, answer) => {
    expect(answerTo(farm, draws, day, ask(when))).toMatchObject(answer)
  })

  it('after a forecast that is over there is what lies in the cooler, beside what is promised of it, for as long as it keeps', () => {
    const over = unpackDraws(drawnSeason({ n: 20, first: addDays(monday, -70), weeks: 5, colours, lengths: [0], heaviest: 100, chance: new Random(4) }))
    const cooled = (lines: readonly LineTold[]) => sellingFarm({ lines, visits: [cutVisit('bench', 'A', 'ember first 50', 30, day)] })
    const at = (days: number, lines: readonly LineTold[] = []) => answerTo(cooled(lines), over, day, ask({ from: addDays(day, days), due: addDays(day, days) }))
    expect(at(1)).toMatchObject({ kind: 'told', most: new Int32Array(20).fill(30) })
    expect(at(1, [{ stems: 10, due: addDays(day, 2) }])).toMatchObject({ kind: 'told', most: new Int32Array(20).fill(20) })
    expect(at(7)).toMatchObject({ kind: 'told' })
    expect(at(8)).toMatchObject({ kind: 'beyond', last: addDays(monday, -36) })
  })

  it('any day of a week is answered for the day on which most is safe', () => {
    const week = { from: addDays(monday, 7), due: addDays(monday, 13) }
    const best = told(ask(week))
    const days = Array.from({ length: 7 }, (_, i) => addDays(week.from, i))
    const each = days.map((one) => safeAt(told(ask({ from: one, due: one })), 0.9))
    expect(safeAt(best, 0.9)).toBe(Math.max(...each))
    expect(best.day).toBe(days[each.indexOf(Math.max(...each))])
  })
})

describe('what would help', () => {
  const farm = sellingFarm({})
  const asked = ask({ colours: [colours[0]!], grade: 'extra', length: 500 as Millimetres, from: addDays(day, 14), due: addDays(day, 14) })
  const before = told(asked)
  const helps = changesOf(asked, draws).flatMap((change) => helpOf(farm, draws, day, { asked, told: before, change, bunch: 1 }) ?? [])

  it('is tried with each colour more, a grade lower, a length shorter, a day or two and a week later', () => {
    expect(changesOf(asked, draws).map(({ help }) => help)).toEqual([
      { kind: 'colour', colour: 'coral' }, { kind: 'colour', colour: 'damson' }, { kind: 'grade', grade: 'first' }, { kind: 'length', length: 400 },
      { kind: 'day', day: addDays(day, 15) }, { kind: 'day', day: addDays(day, 16) }, { kind: 'day', day: addDays(day, 21) },
    ])
    expect(changesOf(ask({ from: monday, due: addDays(monday, 6) }), draws).map(({ help }) => help.kind)).toEqual(['week'])
  })

  it('says how much is safe then, and nothing that helps nothing', () => {
    expect(helps.length).toBeGreaterThan(1)
    for (const help of helps) expect(help.safe).toBeGreaterThan(safeAt(before, 0.9))
    const week = helps.find((help) => help.kind === 'day' && help.day === addDays(day, 21))
    expect(week?.safe).toBe(safeAt(told({ ...asked, from: addDays(day, 21), due: addDays(day, 21) }), 0.9))
    const late = ask({ colours, from: addDays(monday, 46), due: addDays(monday, 46) })
    expect(changesOf(late, draws).flatMap((change) => helpOf(farm, draws, day, { asked: late, told: told(late), change, bunch: 1 }) ?? [])).toEqual([])
  })
})

describe('what an ask costs', () => {
  // As large as a farm's season gets on a phone; measured in a browser by e2e/promise.figures.ts.
  const large = unpackDraws(drawnSeason({ n: 500, first: monday, weeks: 20, colours: [...colours, 'oyster' as ColourID, 'rust' as ColourID], lengths: [0, 400, 500, 600], heaviest: 900, chance: new Random(1) }))
  const lines = Array.from({ length: 40 }, (_, i): LineTold => ({
    stems: 30 + (i % 5) * 20, due: addDays(day, 3 + Math.floor(i * 3)), colours: ['', 'ember', 'coral damson', 'ember coral'][i % 4]!, grade: i % 3 === 0 ? 'first' : '', cm: i % 2 === 0 ? 40 : 0,
  }))

  /** Of an ask after some that were asked ahead, and of serving the promises, on a farm nobody asked before. */
  const looksOf = (asked: Asked, ahead: readonly Day[] = []): { readonly asking: number; readonly serving: number } => {
    const farm = sellingFarm({ lines })
    const promised = openPromises(farm, large, day)
    promised.serveSome(Infinity)
    const serving = promised.looks
    for (const one of ahead) askAhead(farm, large, day, asked, one)
    const before = promised.looks
    answerTo(farm, large, day, asked)
    expect(openPromises(farm, large, day)).toBe(promised)
    return { asking: promised.looks - before, serving }
  }

  it('looks at no more than 60 pools a draw, and at a fifth of what serving the promises took', () => {
    const { asking, serving } = looksOf(ask({ colours: [colours[0]!, colours[1]!], grade: 'first', from: addDays(day, 60), due: addDays(day, 60) }))
    expect(asking / large.n).toBeLessThan(60)
    expect(asking).toBeLessThan(serving / 5)
  })

  it('is for any day of a week less than four times what it is for its last', () => {
    for (const week of [1, 3, 6, 9, 12]) {
      const [from, due] = [addDays(monday, 7 * week), addDays(monday, 7 * week + 6)]
      expect(looksOf(ask({ from, due })).asking, from).toBeLessThan(4 * looksOf(ask({ from: due, due })).asking)
    }
  })

  it('is nothing for days that were asked ahead, alone or as a week', () => {
    const days = Array.from({ length: 7 }, (_, i) => addDays(monday, 7 + i))
    expect(looksOf(ask({ from: days[0]!, due: days[6]! }), days).asking).toBe(0)
    expect(looksOf(ask({ from: days[2]!, due: days[2]! }), days).asking).toBe(0)
    expect(looksOf(ask({ from: days[2]!, due: days[2]!, grade: 'extra' })).asking).toBeGreaterThan(0)
  })
})

/** Stems of a draw that an ask may have, summed up straight from the draws. */
function stemsOf(draw: number, { due, colours: wanted, grade, length }: Asked): number {
  let sum = 0
  const [grades, lengths] = [gradesLowToHigh.length, draws.lengths.length]
  const from = addDays(due, -7) < day ? day : addDays(due, -7)
  draws.weeks.forEach((_, week) => draws.colours.forEach((colour, c) => gradesLowToHigh.forEach((g, gi) => draws.lengths.forEach((edge, l) => {
    if (!wanted.includes(colour as ColourID) || g === 'out' || gi < gradesLowToHigh.indexOf(grade || 'second') || edge < length) return
    const place = (((draw * draws.weeks.length + week) * draws.colours.length + c) * grades + gi) * lengths + l
    for (let on = from; on <= due; on = addDays(on, 1)) {
      const at = weekDayOf(draws, on)
      if (at?.week !== week) continue
      const part = (weekday: number) => (weekday < 0 ? 0 : cutBy(draws.stems[place]!, draws.days[(draw * draws.weeks.length + week) * 7 + weekday]!, place))
      sum += part(at.weekday) - part(at.weekday - 1)
    }
  }))))
  return sum
}
