import { describe, expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { addDays } from '../crop/day'
import type { ColourID, Day } from '../crop/nouns'
import { unpackDraws, weekDayOf } from './draws'
import { DrawsPacker } from './testing/draws_packer'
import { drawnSeason } from './testing/drawn_season'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
const first = '2026-05-25' as Day
const season = (chance: { next(): number }, n = 30, heaviest = 400) =>
  drawnSeason({ n, first, weeks: 2, colours: ['ember' as ColourID, ''], lengths: [0, 400], heaviest, chance })
const packed = season(new Random(3))

describe('draws', () => {
  it(`come out as they were packed, large and small (seed ${seed})`, () => {
    const random = new Random(seed)
    for (let run = 0; run < 30; run++) {
      const packer = new DrawsPacker(3, 2, 2)
      const largest = 10 ** random.between(0, 4)
      const drawn = Array.from({ length: 40 }, () => Array.from({ length: 3 }, () => {
        const idle = random.next() < 0.2
        return Array.from({ length: 16 }, (_, kind) => (idle || kind % 8 === 1 ? 0 : Math.floor(largest * random.next() ** 3)))
      }))
      for (const weeks of drawn) packer.draw((week) => weeks[week]!)
      const draws = unpackDraws({ ...packed, n: 40, weeks: [first, addDays(first, 7), addDays(first, 14)], coded: packer.coded() })
      expect([...draws.stems], `run ${run}`).toEqual(drawn.flat(2))
    }
  })

  it('have days that rise to the whole of their week', () => {
    const { days } = unpackDraws(packed)
    expect([...days.slice(0, 7)]).toEqual([...days.slice(0, 7)].sort((a, b) => a - b))
    expect(days[6]).toBe(255)
  })

  const cutOff = (text: string) => btoa(atob(text).slice(0, -8))
  it.each([
    ['text that is cut off', { ...packed, coded: cutOff(packed.coded) }],
    ['more text than that', { ...packed, coded: btoa(`${atob(packed.coded)}  `) }],
    ['fewer draws', { ...packed, n: packed.n - 1 }],
    ['more draws', { ...packed, n: packed.n + 1 }],
    ['no text', { ...packed, coded: '' }],
    ['another text', { ...packed, coded: btoa('\xff'.repeat(5000)) }],
  ])('are refused with %s', (_, broken) => {
    expect(() => unpackDraws(broken)).toThrow('reading the forecast')
  })

  it.each([
    ['2026-05-25', { week: 0, weekday: 0 }],
    ['2026-05-31', { week: 0, weekday: 6 }],
    ['2026-06-03', { week: 1, weekday: 2 }],
    ['2026-05-24', undefined],
    ['2026-06-08', undefined],
  ])('find the week of %s', (day, found) => {
    expect(weekDayOf(unpackDraws(packed), day as Day)).toEqual(found)
  })
})
