import { describe, expect, it } from 'vitest'
import { bedFacts, markFacts, plantFacts, plantingFacts, removedFacts, stockFacts, visitFacts } from '../crop/facts'
import { LiveFarm } from '../crop/live'
import type { BedID, Day, Farm, Grade, PlantID, Season, StockID, VisitID } from '../crop/nouns'
import { untoldLength } from '../crop/nouns'
import { bedWith, farmWith, plantingWith, plantWith, stockWith, visitWith } from '../crop/testing/nouns'
import { farmID, stateSaid } from '../crop/testing/said'
import type { Fact } from '../log/change'
import { comparedOf, drawnOf, mostDrawn, standingAmong, wholeSeasons } from './peers'

const day = '2026-11-30' as Day
const window = (from: string, to: string) => new Map([[2026 as Season, { from: from as Day, to: to as Day }]])
const year = window('2026-01-01', '2026-10-31')
let visits = 0
const cut = (plant: string, date: string, stems: number, told = {}) => visitWith({
  id: `v${visits++}` as VisitID, plant: plant as PlantID, date: date as Day, counts: [{ colour: '', grade: 'extra' as Grade, length: untoldLength, stems }], ...told,
})
const plant = (id: string, told = {}) => plantWith({ id: id as PlantID, code: id, counted: year, ...told })

function farm(...plants: ReturnType<typeof plant>[]) {
  return farmWith({
    beds: [bedWith()], stocks: [stockWith({ species: 'yarrow' })], plantings: [plantingWith()], plants,
    visits: [cut('a', '2026-05-12', 3), cut('a', '2026-06-20', 4), visitWith({ id: 'bed' as VisitID, bed: 'b' as BedID, date: '2026-07-01' as Day, purpose: 'bench', counts: [{ colour: '', grade: '', length: untoldLength, stems: 90 }] })],
  })
}
const stems = (...plants: ReturnType<typeof plant>[]) => wholeSeasons(farm(...plants), day).map(({ plant: id, stems: n, age }) => `${id} ${n} at ${age}`)

describe('a whole season', () => {
  it('is that of a counted plant whose window saw all of its bed’s cutting; silence is none', () => {
    expect(stems(plant('a'), plant('z'))).toEqual(['a 7 at 1', 'z 0 at 1'])
  })

  it.each([
    ['was not counted', { counted: new Map() }],
    ['was counted after cutting had begun', { counted: window('2026-06-01', '2026-10-31') }],
    ['was counted until before the bed’s last cut', { counted: window('2026-01-01', '2026-06-21') }],
    ['is counted still', { counted: window('2026-01-01', '2026-11-30') }],
    ['went before cutting ended', { removed: '2026-06-25' as Day }],
    ['is of no known planting', { planting: 'other' as never }],
  ])('is none of a plant that %s', (_, told) => {
    expect(stems(plant('a', told))).toEqual([])
  })

  it('is of a plant that went after the last cut', () => {
    expect(stems(plant('a', { removed: '2026-10-01' as Day }))).toEqual(['a 7 at 1'])
  })

  it('is none where a cut was to order: more stood there', () => {
    const ordered = farmWith({
      stocks: [stockWith()], plantings: [plantingWith()], plants: [plant('a')], visits: [cut('a', '2026-05-12', 3, { toOrder: true })],
    })
    expect(wholeSeasons(ordered, day)).toEqual([])
  })
})

describe('the whole seasons of a farm', () => {
  const k = 'k' as PlantID
  const flagged = (on: boolean) => markFacts(k, 'flags', `leaning/${day}/p`, on)
  const said = [
    [...bedFacts(bedWith()), ...stockFacts(stockWith()), ...plantingFacts(plantingWith())],
    ...['k', 'l', 'm'].map((id) => plantFacts(plant(id))),
    ...Array.from({ length: 300 }, (_, i) => visitFacts(cut('l', '2026-05-12', 1 + i % 3))),
  ]

  /** What is read of the visits by asking for the whole seasons, and what they are. */
  function asked(farmNow: Farm) {
    let read = 0
    const visits = new Map(farmNow.visits)
    const one = <T>(it: T): T => { read++; return it }
    const counting = new Proxy(visits, {
      get: (of, name) => {
        if (name === 'get') return (id: VisitID) => one(of.get(id))
        if (name === 'values') return function* () { for (const visit of of.values()) yield one(visit) }
        throw new Error(`visits were read by ${String(name)}, which is not counted`)
      },
    })
    const seasons = wholeSeasons({ ...farmNow, visits: counting }, day)
    return { read, stems: seasons.map(({ code, stems: n }) => `${code} ${n}`) }
  }

  it('cost no look at any visit where a plant was flagged, and are read anew after a visit, a move or a new day', () => {
    const live = new LiveFarm(farmID)
    const state = (...more: Fact[][]) => stateSaid(...said, ...more)
    const tell = (type: string, id: string, ...more: Fact[][]) => live.update([[{ type, id }, state(...more).entity(type, id)]])
    live.replace(state())
    const first = asked(live.farm.peek())
    expect(first.read).toBeGreaterThanOrEqual(300)
    for (const on of [true, false, true]) {
      tell('plant', k, flagged(on))
      expect(asked(live.farm.peek())).toEqual({ ...first, read: 0 })
    }
    const late = visitFacts(cut('k', '2026-05-12', 9, { id: 'late' as VisitID }))
    tell('visit', 'late', late)
    expect(asked(live.farm.peek()).stems).toEqual(['k 9', 'l 600', 'm 0'])
    tell('plant', 'm', removedFacts('m' as PlantID, '2026-05-01' as Day))
    expect(asked(live.farm.peek()).stems).toEqual(['k 9', 'l 600'])
    expect(wholeSeasons(live.farm.peek(), '2026-10-01' as Day)).toEqual([])
  })
})

describe('comparing', () => {
  it('takes others of the same species and age, of whichever years and plantings', () => {
    const all = [['a', 'yarrow', 2026, 2], ['b', 'yarrow', 2025, 2], ['c', 'yarrow', 2026, 1], ['d', 'phlox', 2026, 2], ['a', 'yarrow', 2025, 1]]
      .map(([id, species, season, age]) => ({ plant: id as PlantID, code: '', species: species as string as StockID, season: season as Season, age: Number(age), stems: 9 }))
    expect(comparedOf(all, 'a' as PlantID).map(({ season, others }) => [season, others.map((one) => one.plant)])).toEqual([[2026, ['b']], [2025, ['c']]])
  })

  it('draws all others where they are few, and of very many some, the least and the most among them', () => {
    const many = (n: number) => Array.from({ length: n }, (_, i) =>
      ({ plant: `${i}` as PlantID, code: '', species: '', season: 2026 as Season, age: 1, stems: (i * 7919) % n }))
    expect(drawnOf(many(mostDrawn)).map(({ stems }) => stems)).toEqual(Array.from({ length: mostDrawn }, (_, i) => i))
    const drawn = drawnOf(many(50_000)).map(({ stems }) => stems)
    expect([drawn.length, new Set(drawn).size, drawn[0], drawn.at(-1)]).toEqual([mostDrawn, mostDrawn, 0, 49_999])
    expect(Math.abs((drawn[mostDrawn / 2] ?? 0) - 25_000)).toBeLessThan(200)
  })

  it.each([
    ['nothing of four others', 22, [1, 2, 3, 4], { kind: 'few', n: 4 }],
    ['more than eight in ten', 22, [1, 2, 3, 4, 5, 6, 7, 8, 9, 40], { kind: 'more', ofTen: 9 }],
    ['it rounded down', 22, [1, 2, 3, 4, 5, 6, 40], { kind: 'more', ofTen: 8 }],
    ['fewer than seven in ten', 4, [1, 2, 3, 5, 6, 7, 8, 9, 10, 11], { kind: 'fewer', ofTen: 7 }],
    ['most', 50, [1, 2, 3, 4, 5], { kind: 'most' }],
    ['least', 0, [1, 2, 3, 4, 5], { kind: 'least' }],
    ['the middle', 5, [1, 2, 3, 7, 8, 9], { kind: 'middle' }],
    ['the middle among equals', 5, [5, 5, 5, 5, 5, 5], { kind: 'middle' }],
  ] as const)('says %s', (_, own, others, standing) => {
    expect(standingAmong(own, others)).toEqual(standing)
  })
})
