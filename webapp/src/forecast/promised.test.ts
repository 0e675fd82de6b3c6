import { describe, expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { addDays } from '../crop/day'
import type { ColourID, Day, Millimetres, ToldGrade } from '../crop/nouns'
import type { LineID } from '../crop/sale_nouns'
import type { Coming, Kind } from './coming'
import type { Draws } from './draws'
import { type Demand, takesKind, type Wish } from './demands'
import { Promised } from './promised'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
const [sunday, monday] = ['2026-06-07', '2026-06-08'] as [Day, Day]
const [ember, coral] = ['ember', 'coral'] as ColourID[]

/** A Sunday and the Monday after it, on which alone anything is cut; stems by draw, day and kind. */
function comingWith(n: number, kinds: readonly Kind[], stems: (draw: number, day: number, kind: number) => number): Coming {
  const parts = [0, 0, 0, 0, 0, 0, 255, 255, 255, 255, 255, 255, 255, 255]
  const draws: Draws = {
    n, from: sunday, weeks: [addDays(sunday, -6), monday], colours: [], lengths: [], days: Uint8Array.from(Array.from({ length: n }, () => parts).flat()),
    stems: Uint16Array.from({ length: n * 2 * kinds.length }, (_, i) => stems(Math.floor(i / (2 * kinds.length)), Math.floor(i / kinds.length) % 2, i % kinds.length)),
  }
  return { draws, first: draws.weeks[0]!, last: addDays(monday, 6), days: 14, kinds, begin: 0, places: Int32Array.from(kinds.keys()), ofWeek: kinds.length }
}

function kind(colour: ColourID | '', grade: Kind['grade'] = 'first', length = 0): Kind {
  return { colour, grade, length: length as Millimetres }
}

function wish(told: Partial<Wish> = {}): Wish {
  return { colours: [], grade: '' as ToldGrade, length: 0 as Millimetres, from: sunday, to: monday, ...told }
}

function demand(stems: number, told: Partial<Wish> = {}): Demand {
  return { ...wish(told), stems, lines: ['line' as LineID] }
}

const promised = (coming: Coming, demands: readonly Demand[]) => new Promised({ coming, cutFrom: sunday, lots: [] }, demands)

describe('an ask', () => {
  const oneDay = comingWith(3, [kind(ember!), kind(coral!)], (draw, day, which) => (day === 0 ? (which === 0 ? 10 * (draw + 1) : 5) : 0))

  it.each([
    ['alone may have all that comes of its colours', [], wish({ colours: [ember!] }), [10, 20, 30]],
    ['of any colour may have them all', [], wish(), [15, 25, 35]],
    ['gets none of what is cut after its day', [], wish({ to: addDays(sunday, -1) }), [0, 0, 0]],
    ['leaves a promise of its own colour its stems', [demand(8, { colours: [ember!] })], wish({ colours: [ember!] }), [2, 12, 22]],
    ['moves a promise of any colour to the other', [demand(5)], wish({ colours: [ember!] }), [10, 20, 30]],
    ['moves it only as far as there is of the other', [demand(7)], wish({ colours: [ember!] }), [8, 18, 28]],
    ['gets nothing where promises cannot be kept', [demand(99)], wish(), [0, 0, 0]],
    ['gets what a promise that cannot be kept cannot use', [demand(99, { colours: [ember!] })], wish(), [5, 5, 5]],
  ])('%s', (_, demands, asked, most) => {
    expect([...promised(oneDay, demands).most(asked)]).toEqual(most)
  })

  it('of a day that is over counts nothing of its draws', () => {
    const sooner = new Promised({ coming: oneDay, cutFrom: monday, lots: [] }, [])
    expect([...sooner.most(wish())]).toEqual([0, 0, 0])
  })

  it('moves promises along a chain of several', () => {
    const kinds = [kind(ember!), kind(coral!), kind('' as const, 'extra')]
    const chain = comingWith(1, kinds, (_draw, day) => (day === 0 ? 4 : 0))
    // The first may have ember or coral, the second coral or the extra stems: both give way so that the ask has all the ember.
    const demands = [demand(4, { colours: [ember!, coral!] }), demand(4, { grade: 'first' })]
    expect([...promised(chain, demands).most(wish({ colours: [ember!] }))]).toEqual([4])
  })
})

describe(`against trying every way (seed ${seed})`, () => {
  const random = new Random(seed)
  const kinds = [kind(ember!), kind(coral!), kind(ember!, 'extra', 500)]
  const wishes = () => ({
    colours: random.pick([[], [ember!], [coral!], [ember!, coral!]]), grade: random.pick(['', '', 'extra', 'first'] as const),
    length: random.pick([0, 0, 500]) as Millimetres, ...random.pick([{ from: sunday, to: sunday }, { from: sunday, to: monday }, { from: monday, to: monday }]),
  })

  it('promises get, one after the other, all they can, and an ask all that leaves them that', () => {
    for (let run = 0; run < 300; run++) {
      const coming = comingWith(1, kinds, () => random.between(0, 1) * random.between(0, 2))
      const demands = Array.from({ length: random.between(0, 3) }, () => demand(random.between(1, 3), wishes()))
      const asked = wish(wishes())
      const found = promised(coming, demands)
      const best = tried(coming, demands, asked)
      expect([...found.got, ...found.most(asked)], `run ${run}`).toEqual(best)
    }
  })

  it('what was asked once is known, until something is given', () => {
    const coming = comingWith(5, kinds, () => 3)
    const found = promised(coming, [demand(0), demand(2)])
    const all = (asking: (draw: number) => number) => Array.from({ length: 5 }, (_, draw) => asking(draw))
    const first = all(found.asking(wish()))
    const looks = found.looks
    expect([all(found.asking(wish())), found.looks]).toEqual([first, looks])
    found.give(0, 1)
    expect(all(found.asking(wish()))).toEqual(first.map((n) => n - 1))
  })

  it('an ask leaves what the next ask is told as it was', () => {
    const coming = comingWith(5, kinds, () => random.between(0, 3))
    const found = promised(coming, [demand(2, wishes()), demand(3, wishes())])
    const asked = wish(wishes())
    const first = [...found.most(asked)]
    found.most(wish(wishes()))
    expect([...found.most(asked)]).toEqual(first)
  })
})

/** The best by the first promise, then the second and so on, then the ask, of every way to give each stem to somebody or nobody. */
function tried(coming: Coming, demands: readonly Demand[], asked: Wish): number[] {
  const stems: { day: Day; kind: Kind }[] = []
  coming.draws.stems.forEach((n, i) => {
    const day = i < coming.kinds.length ? sunday : monday
    for (let one = 0; one < n; one++) stems.push({ day, kind: coming.kinds[i % coming.kinds.length]! })
  })
  const all = [...demands, { ...asked, stems: Infinity }]
  const fits = stems.map(({ day, kind: of }) => [...all.keys()].filter((i) => all[i]!.from <= day && day <= all[i]!.to && takesKind(all[i]!, of)))
  // Ways that have given the same to everybody are one.
  let ways = new Map<string, number[]>([['', all.map(() => 0)]])
  for (const takers of fits) {
    const next = new Map(ways)
    for (const got of ways.values()) {
      for (const i of takers) {
        if (got[i]! >= all[i]!.stems) continue
        const more = got.map((n, at) => (at === i ? n + 1 : n))
        next.set(more.join(), more)
      }
    }
    ways = next
  }
  return [...ways.values()].reduce((best, got) => (later(got, best) ? got : best))
}

function later(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((n, i) => n !== b[i])
  return at >= 0 && a[at]! > b[at]!
}
