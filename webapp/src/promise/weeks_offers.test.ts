import { describe, expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { coolerDays } from '../crop/cooler'
import { addDays } from '../crop/day'
import type { ColourID, Day, Farm, Millimetres } from '../crop/nouns'
import type { Bunch, BunchID } from '../crop/sale_nouns'
import { cutVisit, day, type LineTold, sellingFarm } from '../crop/testing/cutting'
import { colourWith } from '../crop/testing/nouns'
import { keepChance } from '../forecast/asking'
import { type Demand, demandsByDay } from '../forecast/demands'
import { unpackDraws } from '../forecast/draws'
import { supplyOf } from '../forecast/open_promises'
import { Promised } from '../forecast/promised'
import { drawnSeason } from '../forecast/testing/drawn_season'
import { offerRules, type OfferRule, safeOffers as offersInTurn, type WeekOffers } from './weeks_offers'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
const monday = '2026-06-01' as Day // the week of the test farm's day, a Wednesday
const colours = ['coral', 'ember'] as ColourID[]
const draws = unpackDraws(drawnSeason({ n: 100, first: monday, weeks: 6, colours: [...colours, ''], lengths: [0, 400, 500], heaviest: 12_000, chance: new Random(5) }))

const rule = (name: string, grade: OfferRule['grade'], cm: number, stems = 10): OfferRule => ({ id: name as BunchID, name, stems, grade, length: cm * 10 as Millimetres })
const [long, ten] = [rule('long', 'extra', 50), rule('ten', 'first', 40)]

function farmWith(lines: readonly LineTold[] = [], visits: Parameters<typeof sellingFarm>[0]['visits'] = []): Farm {
  const named = (id: ColourID) => [id, colourWith({ id, name: id })] as const
  return { ...sellingFarm({ lines, visits: visits ?? [] }), colours: new Map(colours.map(named)) }
}

const safeOffers = (...asked: Parameters<typeof offersInTurn>): WeekOffers[] => [...offersInTurn(...asked)]

const said = (told: readonly WeekOffers[]) => told.map(({ offers }) => offers.map(({ rule: { name }, colour, bunches }) => `${colour || 'mixed'} ${name} ${bunches}`))

/** As a demand, with when it may be cut. */
function demandOf({ from, to }: WeekOffers, week: number, offer: WeekOffers['offers'][number], farm: Farm): Demand {
  const cutFrom = week === 0 ? addDays(from, -coolerDays(farm.sales.terms)) : from
  return { from: cutFrom, to, grade: offer.rule.grade, length: offer.rule.length, colours: offer.colour === '' ? [] : [offer.colour], stems: offer.stems, lines: [] }
}

describe('offers for the coming weeks', () => {
  it('come in the stated order: the most demanding rule first, its colours by name, what is left of all colours last', () => {
    const week = safeOffers(farmWith(), draws, day, 4, [long, ten])[3]
    const order = week!.offers.map(({ rule: { name }, colour }) => `${name} ${colour}`)
    expect(order).toEqual(['long coral', 'long ember', 'ten coral', 'ten ember', 'long ', 'ten '].filter((one) => order.includes(one)))
    expect(order.length).toBeGreaterThanOrEqual(4)
  })

  it(`take no stem from a promise, are of no stem twice, and are there together as often as they say (seed ${seed})`, () => {
    const random = new Random(seed)
    for (let run = 0; run < 12; run++) {
      const lines = Array.from({ length: random.between(0, 8) }, (): LineTold => ({
        stems: 10, bunches: random.between(1, 60), due: addDays(day, random.between(0, 24)), colours: random.pick(['', 'ember', 'coral', 'coral ember']), grade: random.pick(['', 'first', 'extra']), cm: random.pick([0, 40]),
      }))
      const farm = farmWith(lines, [cutVisit('bench', 'A', 'ember first 50', random.between(0, 60), addDays(day, -2))])
      const told = safeOffers(farm, draws, day, 4, [long, ten])
      const supply = supplyOf(farm, draws, day)
      const open = demandsByDay(farm.sales, day, addDays(supply.coming.last, coolerDays(farm.sales.terms)))
      const offered = told.flatMap((week, i) => week.offers.map((offer) => ({ i, demand: demandOf(week, i, offer, farm) })))
      const all = new Promised(supply, [...open, ...offered.map(({ demand }) => demand)])
      const alone = new Promised(supply, open)
      told.forEach((week, i) => {
        let there = 0
        for (let draw = 0; draw < draws.n; draw++) {
          const got = (at: number) => all.got[draw * all.demands.length + at]!
          if (i === 0) expect(open.map((_, at) => got(at))).toEqual(open.map((_, at) => alone.got[draw * open.length + at]!))
          if (offered.every((one, at) => one.i !== i || got(open.length + at) === one.demand.stems)) there++
        }
        expect(there / draws.n, `run ${run}, week ${i}`).toBeCloseTo(week.chance, 9)
        expect(week.chance).toBeGreaterThanOrEqual(keepChance(farm.sales.terms) - 1e-9)
      })
    }
  })

  it('are fewer beside a promise, and no fewer of what it does not take', () => {
    const [, , , without] = said(safeOffers(farmWith(), draws, day, 4, [long]))
    const [, , , beside] = said(safeOffers(farmWith([{ stems: 10, bunches: 4, due: '2026-06-28', colours: 'coral', grade: 'extra', cm: 50 }]), draws, day, 4, [long]))
    const bunches = (of: readonly string[] | undefined, colour: string) => Number(of?.find((one) => one.startsWith(colour))?.split(' ')[2] ?? 0)
    expect(bunches(beside, 'coral')).toBeLessThan(bunches(without, 'coral'))
    expect(bunches(beside, 'ember')).toBeGreaterThanOrEqual(bunches(without, 'ember'))
  })

  it('hold what lies in the cooler in this week alone', () => {
    const lying = safeOffers(farmWith([], [cutVisit('bench', 'A', 'ember extra 60', 900, addDays(day, -1))]), draws, day, 2, [long])
    const without = safeOffers(farmWith(), draws, day, 2, [long])
    const ember = (told: readonly WeekOffers[], week: number) => told[week]!.offers.find(({ colour }) => colour === 'ember')?.bunches ?? 0
    expect(ember(lying, 0) - ember(without, 0)).toBeGreaterThanOrEqual(90)
    expect(ember(lying, 1)).toBe(ember(without, 1))
  })

  it('pass over weeks in which nothing comes: in winter they are of the next flush', () => {
    const told = safeOffers(farmWith(), draws, '2026-03-04' as Day, 2, [long])
    expect(told.map(({ from }) => from)).toEqual(['2026-06-01', '2026-06-08'])
  })

  it('end with the forecast', () => {
    expect(safeOffers(farmWith(), draws, day, 9, [long])).toHaveLength(6)
    expect(safeOffers(farmWith(), draws, '2026-09-01' as Day, 2, [long])).toEqual([])
  })

  it('are of the cooler alone once the forecast is over', () => {
    const late = '2026-09-01' as Day
    const farm = farmWith([{ stems: 10, due: late }], [cutVisit('bench', 'A', 'ember first 50', 40, late)])
    expect(said(safeOffers(farm, draws, late, 2, [ten]))).toEqual([['ember ten 3']])
  })
})

describe('rules for bunches', () => {
  it('are the most demanding first', () => {
    const bunch = (told: OfferRule): [BunchID, Bunch] => [told.id as BunchID, told as Bunch]
    const farm = farmWith()
    const sales = { ...farm.sales, bunches: new Map([bunch(ten), bunch(rule('fine', 'extra', 40)), bunch(long)]) }
    expect(offerRules({ sales }).map(({ name }) => name)).toEqual(['long', 'fine', 'ten'])
  })

  it('are ten stems that can be sold where the farm has none', () => {
    expect(offerRules(farmWith())).toMatchObject([{ id: '', stems: 10, grade: 'second', length: 0 }])
  })
})
