import { describe, expect, it } from 'vitest'
import type { BedID, Day, Farm, Season } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { bedWith, farmWith } from '../crop/testing/nouns'
import { type Books, isBooks, queryOf, type Row } from './books'
import { bedsSentence, evenSentences, keyName, price, seasonSentence } from './books_words'
import { daysAsked } from './days_asked'
import { priceLine, pricePoints } from './prices_line'
import { stepsOf } from './season_sum'
import { shelve } from './shelf'
import { placesOf } from './worth'
import { barsOf, rowsOf, viewCSV } from './view_table'

const none = 0 as Cents

function rowWith(told: Partial<Record<keyof Row, number | string>> = {}): Row {
  return {
    key: '', stems: 0, bunches: 0, gross_cents: none, kept_cents: none, fees_cents: none, fees_paid_cents: none, claims_cents: none, net_cents: none,
    costs_cents: none, fixed_cents: none, work_cents: none, minutes: 0, left_cents: none, shrunk_stems: 0, shrunk_cents: none, share: 0,
    price_a_stem: null, an_hour: null, ...told,
  } as unknown as Row
}

const all = rowWith({
  stems: 1000, gross_cents: 50_000, kept_cents: 5_000, fees_cents: 2_000, fees_paid_cents: 500, claims_cents: 300, net_cents: 43_200, costs_cents: 10_000,
  work_cents: 40_000, minutes: 1_200, left_cents: -6_800, price_a_stem: 50, an_hour: 1_660,
})

function booksWith(told: Partial<Books>): Books {
  return { season: 2026 as Season, seasons: [2026 as Season], currency: 'EUR', unit: 'm', by: 'bed', rows: [], all, budget: null, sides: [], doubts: {}, ...told }
}

describe('the season as steps', () => {
  it('leads from what was sold to what is left, each step from where the one before ended', () => {
    expect(stepsOf(all).map(({ name, from, to }) => [name, from, to])).toEqual([
      ['sold', 0, 50_000], ['kept', 45_000, 50_000], ['fees', 43_000, 45_000], ['fees_paid', 43_000, 43_500], ['claims', 43_200, 43_500],
      ['net', 0, 43_200], ['costs', 33_200, 43_200], ['work', -6_800, 33_200], ['left', -6_800, 0],
    ])
  })

  it('goes up at costs where more came back than was spent', () => {
    const refunded = rowWith({ gross_cents: 500, net_cents: 500, costs_cents: -200, left_cents: 700 })
    expect(stepsOf(refunded).map(({ name, cents, from, to }) => [name, cents, from, to])).toEqual([['sold', 500, 0, 500], ['net', 500, 0, 500], ['costs', 200, 500, 700], ['left', 700, 0, 700]])
  })

  it('leaves out what is nothing, but no sum', () => {
    expect(stepsOf(rowWith()).map(({ name }) => name)).toEqual(['sold', 'net', 'left'])
  })
})

it.each([
  ['what it brought, and of each stem', rowWith({ stems: 1000, left_cents: 12_340 }), 'Season 2026 has brought **€123.40** after everything, **€0.12** for each stem sold.'],
  ['what it cost more than it brought', all, 'Season 2026 has cost **€68.00** more than it brought.'],
  ['no price where nothing was sold', rowWith({ left_cents: 100 }), 'Season 2026 has brought **€1.00** after everything.'],
])('the sentence says %s', (_, of, want) => expect(seasonSentence(booksWith({ all: of }))).toBe(want))

describe('which beds paid', () => {
  const names = ['Ash', 'Birch', 'Cedar', 'Dogwood', 'Elder', 'Fir', 'Gorse', 'Hazel', 'Ivy', 'Juniper']
  const farm: Farm = farmWith({ beds: names.map((name) => bedWith({ id: name as BedID, name })) })
  const rows = (left: readonly number[]) => [rowWith({ left_cents: -5 }), ...left.map((cents, i) => rowWith({ key: names[i]!, left_cents: cents }))]
  it.each([
    ['names both, the best first; just even did not', [3, 9, 0], 'Birch and Ash paid. Cedar did not.'],
    ['all', [1, 2], 'All 2 beds paid.'],
    ['the only one', [1], 'Ash paid.'],
    ['none', [-1, 0], 'None of 2 beds paid.'],
    ['counts those that are many', [1, 1, 1, 1, 1, -1], '5 beds paid; Fir did not.'],
    ['counts both', [1, 1, 1, 1, 1, -1, -1, -1, -1, -1], '5 beds paid, 5 did not.'],
    ['says nothing without beds', [], ''],
  ])('%s', (_, left, want) => expect(bedsSentence(farm, rows(left))).toBe(want))
})

it.each([[36.12, '€0.36'], [-36.5, '−€0.37'], [-0.2, '€0.00'], [null, '–'], [undefined, '–']])('%s cents are told as %s', (cents, want) => {
  expect(price(cents, 'EUR')).toBe(want)
})

describe('a view', () => {
  const rows = [rowWith({ gross_cents: 100, left_cents: 40 }), rowWith({ key: 'second', gross_cents: 200, left_cents: -50 }), rowWith({ key: 'extra', left_cents: 10 })]

  it('puts most first, grades in their order, and what is untold last', () => {
    expect(rowsOf('bed', rows).map(({ key }) => key)).toEqual(['extra', 'second', ''])
    expect(rowsOf('grade', [...rows].reverse()).map(({ key }) => key)).toEqual(['extra', 'second', ''])
    expect(rowsOf('week', [rowWith({ key: '2026-05-11', left_cents: 1 }), rowWith({ key: '2026-05-18', left_cents: 9 })]).map(({ key }) => key)).toEqual(['2026-05-11', '2026-05-18'])
  })

  it('draws all on one scale and says where something lacks', () => {
    expect(barsOf(rows)).toEqual([{ sold: 50, left: 20, lacks: false }, { sold: 100, left: 25, lacks: true }, { sold: 0, left: 5, lacks: false }])
  })

  it('is saved with its sum, exact to the cent, and no name runs as a formula', () => {
    const text = viewCSV(booksWith({ rows: [rowWith({ key: 'a', stems: 3, gross_cents: 1_234, price_a_stem: 411.3333 })] }), () => '=1+1', 'All together')
    const lines = text.trimEnd().split('\r\n')
    expect(lines).toHaveLength(3)
    expect(lines[1]).toMatch(/^"'=1\+1",3,0,12\.34,.*,4\.113333,"","","",0,0,"EUR"$/)
    expect(lines[2]).toMatch(/^"All together",1000,.*,-68,0\.5,/)
  })
})

describe('what is asked', () => {
  it('is the same text for the same question, and says what is untold by an empty name', () => {
    expect(queryOf({ by: 'bed', season: undefined, keep: { grade: '', channel: 'c&d' } })).toBe('?by=bed&channel=c%26d&grade=')
    expect(queryOf({ by: 'week', season: 2026 as Season, keep: {} })).toBe('?by=week&season=2026')
    expect(queryOf({ by: 'age_class', season: undefined, keep: { length: '500-600' }, from: '2026-05-01' as Day, to: '2026-05-31' as Day })).toBe('?by=age_class&from=2026-05-01&to=2026-05-31&length=500-600')
  })

  it('is kept with the last asked first, each question once, and so many', () => {
    const of = (query: string, answer: number) => ({ query, day: '2026-06-01' as const, answer }) as never
    const kept = ['a', 'b', 'a', 'c'].reduce<never[]>((all, query, i) => shelve<never>(all as never, of(query, i), 2) as never[], [])
    expect(kept).toEqual([of('c', 3), of('a', 2)])
  })

  it('is answered by books alone', () => {
    expect(isBooks(booksWith({ rows: [all] }))).toBe(true)
    expect(isBooks({ ...booksWith({}), rows: [{ ...all, left_cents: '1' }] })).toBe(false)
  })
})

it.each([
  ['week', '2026-12-28', '2026-W53, from Dec 28'], ['week', '2027-01-04', '2027-W01, from Jan 4'], ['month', '2027-06', 'June 2027'],
  ['length', '500-600', '50 cm'], ['age_class', '1', 'first season'], ['age_class', '3+', 'third season and later'], ['length', '', 'length not told'],
  ['age_class', '9', 'no longer known'],
] as const)('a %s %s is called %s', (by, key, want) => expect(keyName(farmWith({}), by, key)).toBe(want))

it('lengths stand by their bounds, and months in their order', () => {
  const rows = (...keys: string[]) => keys.map((key, i) => rowWith({ key, left_cents: i }))
  expect(rowsOf('length', rows('1000-1100', '500-600', '')).map(({ key }) => key)).toEqual(['500-600', '1000-1100', ''])
  expect(rowsOf('month', rows('2026-05', '2026-06')).map(({ key }) => key)).toEqual(['2026-05', '2026-06'])
})

it.each([
  [{ from: '', to: '' }, { from: '', to: '' }], [{ from: '2026-05-01', to: '' }, { from: '2026-05-01', to: '' }],
  [{ from: '2026-05-01', to: '2026-05-01' }, { from: '2026-05-01', to: '2026-05-01' }],
  [{ from: '2026-05-02', to: '2026-05-01' }, { from: '', to: '' }], [{ from: '2026-02-30', to: '2026-05-01' }, { from: '', to: '2026-05-01' }],
])('of the days %j is asked %j', (typed, asked) => expect(daysAsked(typed)).toEqual(asked))

it('prices are joined from week to week, and a week without sales breaks the line', () => {
  const weeks = ['2026-06-08', '2026-05-11', '2026-05-18', ''].map((key) => rowWith({ key, stems: 10, price_a_stem: 40 }))
  const points = pricePoints([...weeks, rowWith({ key: '2026-05-25' })])
  expect(points.map(({ week }) => week)).toEqual(['2026-05-11', '2026-05-18', '2026-06-08'])
  expect(priceLine(points).path.replace(/[^ML]/g, '')).toBe('MLM')
})

it('breaking even says the price, whole bunches, and where no number of bunches is enough', () => {
  const budget = { bunches: 100, price: 500, break_even_price: 568, break_even_bunches: 113.6, pays_fixed: null }
  const said = evenSentences(booksWith({ all: rowWith({ fixed_cents: 100 }), budget }))
  expect(said[0]).toContain('At **€5.68** a bunch')
  expect(said[1]).toContain('**114** bunches')
  expect(said[2]).toContain('no number of them')
  expect(evenSentences(booksWith({ budget: null }))).toHaveLength(1)
})

it('intervals lie on one line that holds nought', () => {
  const at = placesOf([{ median: 10, lo: -20, hi: 80 }])
  expect([at(-20), at(80)]).toEqual([0, 100])
  expect(at(0)).toBeGreaterThan(0)
})
