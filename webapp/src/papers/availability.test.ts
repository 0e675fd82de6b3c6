import { describe, expect, it } from 'vitest'
import type { ColourID, Day } from '../crop/nouns'
import { acceptsFacts, termsFacts } from '../crop/sale_facts'
import type { BunchID, BuyerID, Cents, ChannelID, Price, PriceID } from '../crop/sale_nouns'
import type { Fact } from '../log/change'
import { speakerOf } from '../messages/messages'
import { available, daysFrom, inOrder, type Offer } from './availability'
import { availabilityCsv, csvColumns, movedUp, toggled } from './availability_csv'
import { offeredPrice } from './availability_price'
import { sound } from './availability_settings'
import { availabilityText } from './availability_text'
import { bench, day, farmThatSold, fifty, lineWith, lotWith, ordered, packed } from './testing/sold'

const cut: Fact[] = bench('b', '2026-06-03', [['ember', 'extra', 20], ['ember', 'first', 45], ['oyster', 'second', 12]])

function told(offers: readonly Offer[]): string[] {
  return offers.map(({ day: on, colour, grade, stems, bunches }) => `${on} ${colour} ${grade} ${stems} ${bunches}`)
}

describe('what is available', () => {
  it.each<[string, Fact[][], number, string[], { short?: number; past?: number }]>([
    ['is what lies in the cooler', [], 1, [`${day} ember extra 20 2`, `${day} ember first 45 4`, `${day} oyster second 12 1`], {}],
    ['has today’s bench with it', [bench('w', day, [['ember', 'first', 7]])], 1, [`${day} ember extra 20 2`, `${day} ember first 52 5`, `${day} oyster second 12 1`], {}],
    ['leaves out what was packed', [ordered('o', 'A', [lineWith('a', { bunches: 1 })]), packed('p', 'a', 'A', 1, [[lotWith(), 10]])], 1,
      [`${day} ember extra 20 2`, `${day} ember first 35 3`, `${day} oyster second 12 1`], {}],
    ['leaves out what is due and not packed, of the plainest that will do', [ordered('o', 'A', [lineWith('a', { bunches: 2 })])], 1,
      [`${day} ember extra 20 2`, `${day} ember first 25 2`, `${day} oyster second 12 1`], {}],
    ['keeps the better for the pickier line', [ordered('o', 'A', [lineWith('a', { bunches: 6 }), lineWith('z', { grade: 'extra', bunches: 1 })])], 1,
      [`${day} oyster second 12 1`], { short: 5 }],
    ['keeps today what is promised for tomorrow, and takes it off once', [ordered('o', 'A', [lineWith('a', { bunches: 4 })], '2026-06-05' as Day)], 3, [
      `${day} ember extra 20 2`, `${day} ember first 5 0`, `${day} oyster second 12 1`,
      '2026-06-05 ember extra 20 2', '2026-06-05 ember first 5 0', '2026-06-05 oyster second 12 1',
      '2026-06-06 ember extra 20 2', '2026-06-06 ember first 5 0', '2026-06-06 oyster second 12 1',
    ], {}],
    ['leaves to later cuts what is due after the last of its days', [ordered('o', 'A', [lineWith('a', { bunches: 4 })], '2026-06-05' as Day)], 1,
      [`${day} ember extra 20 2`, `${day} ember first 45 4`, `${day} oyster second 12 1`], {}],
    ['takes off what is overdue', [ordered('o', 'A', [lineWith('a', { bunches: 4 })], '2026-06-02' as Day)], 1,
      [`${day} ember extra 20 2`, `${day} ember first 5 0`, `${day} oyster second 12 1`], {}],
    ['but not what is overdue for longer than anybody waits', [ordered('o', 'A', [lineWith('a', { bunches: 4 })], '2026-05-20' as Day)], 1,
      [`${day} ember extra 20 2`, `${day} ember first 45 4`, `${day} oyster second 12 1`], {}],
    ['keeps of what a buyer takes instead no more than what was asked for lacks', [ordered('o', 'A', [lineWith('a', { colours: ['oyster' as ColourID], grade: 'second', bunches: 2 })]), acceptsFacts('A' as BuyerID, 'oyster' as ColourID, ['ember' as ColourID])], 1,
      [`${day} ember extra 20 2`, `${day} ember first 37 3`], {}],
    ['keeps nothing instead where the line takes nothing else', [ordered('o', 'A', [lineWith('a', { colours: ['oyster' as ColourID], grade: 'second', bunches: 2, exact: true })]), acceptsFacts('A' as BuyerID, 'oyster' as ColourID, ['ember' as ColourID])], 1,
      [`${day} ember extra 20 2`, `${day} ember first 45 4`], { short: 8 }],
    ['keeps the younger for the line that is due when the older is past', [
      bench('w', '2026-05-29', [['ember', 'first', 40]]), ordered('o', 'A', [lineWith('a', { bunches: 4 })]), ordered('q', 'B', [lineWith('z', { bunches: 4 })], '2026-06-06' as Day),
    ], 3, [
      `${day} ember extra 20 2`, `${day} ember first 5 0`, `${day} oyster second 12 1`,
      '2026-06-05 ember extra 20 2', '2026-06-05 ember first 5 0', '2026-06-05 oyster second 12 1',
      '2026-06-06 ember extra 20 2', '2026-06-06 ember first 5 0', '2026-06-06 oyster second 12 1',
    ], {}],
    ['fills lines that are due before a lot is past from it, of whatever grade, where it cannot be offered any more', [
      bench('w', '2026-05-28', [['ember', 'extra', 40]]), ordered('o', 'A', [lineWith('a', { bunches: 4 })]),
    ], 2, [
      `${day} ember extra 60 6`, `${day} ember first 5 0`, `${day} oyster second 12 1`,
      '2026-06-05 ember extra 20 2', '2026-06-05 ember first 45 4', '2026-06-05 oyster second 12 1',
    ], {}],
    ['offers a lot until its last day, and the others after it', [bench('w', '2026-05-28', [['ember', 'first', 40]])], 2, [
      `${day} ember extra 20 2`, `${day} ember first 85 8`, `${day} oyster second 12 1`,
      '2026-06-05 ember extra 20 2', '2026-06-05 ember first 45 4', '2026-06-05 oyster second 12 1',
    ], {}],
    ['tells what lies here for nobody that is due', [ordered('o', 'A', [lineWith('a', { colours: ['oyster' as ColourID], bunches: 1 })])], 1,
      [`${day} ember extra 20 2`, `${day} ember first 45 4`, `${day} oyster second 12 1`], { short: 10 }],
    ['ends with the vase life', [termsFacts({ id: 'f' as never }, { coolerDays: 1 })], 2, [`${day} ember extra 20 2`, `${day} ember first 45 4`, `${day} oyster second 12 1`], {}],
    ['never offers what is past it', [termsFacts({ id: 'f' as never }, { coolerDays: 1 }), bench('w', '2026-05-20', [['ember', 'first', 9]])], 1,
      [`${day} ember extra 20 2`, `${day} ember first 45 4`, `${day} oyster second 12 1`], { past: 9 }],
  ])('%s', (_, facts, days, want, { short = 0, past = 0 }) => {
    const farm = farmThatSold(cut, ...facts)
    const found = available(farm, day, daysFrom(day, days), 10)
    expect(told(inOrder(farm, found.offers))).toEqual(want)
    expect([found.short, found.past]).toEqual([short, past])
  })
})

const farm = farmThatSold(cut)
const offer: Offer = { day, colour: 'ember' as ColourID, grade: 'extra', length: fifty, stems: 20, bunches: 2, cut: '2026-06-03' as Day, daysLeft: 5 }

describe('the price of an offer', () => {
  const rule = (id: string, stems: number, grade: 'extra' | 'first') => ({ id: id as BunchID, name: id, stems, grade, length: 400 as never })
  const price = (id: string, bunch: string, cents: number, more: Partial<Price> = {}): Price => ({
    id: id as PriceID, channel: 'ch' as ChannelID, buyer: '', colour: '', bunch: bunch as BunchID, from: '2026-05-01' as Day, cents: cents as Cents, ...more,
  })
  it.each<[string, Price[], number | undefined]>([
    ['is of the most demanding rule that it meets', [price('1', 'first', 500), price('2', 'extra', 700)], 700],
    ['is the one that began last', [price('1', 'extra', 700), price('2', 'extra', 650, { from: '2026-06-01' as Day }), price('3', 'extra', 600, { from: '2026-06-20' as Day })], 650],
    ['is its colour’s before any colour’s', [price('1', 'extra', 800, { colour: 'ember' as ColourID }), price('2', 'extra', 700, { from: '2026-06-01' as Day })], 800],
    ['is no other colour’s, buyer’s or channel’s', [
      price('1', 'extra', 1, { colour: 'oyster' as ColourID }), price('2', 'extra', 2, { buyer: 'b' as never }), price('3', 'extra', 3, { channel: 'other' as ChannelID }),
    ], undefined],
    ['is none of a bunch of other stems', [price('1', 'dozen', 900)], undefined],
    ['is not of a price of nothing, which is no price', [price('1', 'extra', 0), price('2', 'first', 500)], 500],
    ['is the lower of two that begin on one day, as on an order', [price('1', 'extra', 700), price('2', 'extra', 600)], 600],
  ])('%s', (_, prices, want) => {
    const bunches = new Map([rule('first', 10, 'first'), rule('extra', 10, 'extra'), rule('dozen', 12, 'first')].map((one) => [one.id, one]))
    const sales = { ...farm.sales, bunches, prices: new Map(prices.map((one) => [one.id, one])) }
    expect(offeredPrice(sales, 'ch' as ChannelID, offer, 10)).toBe(want)
  })
})

describe('the file', () => {
  const options = { bunch: 10, currency: 'EUR', locale: 'en-GB', priceOf: () => 790 as Cents }
  /** The row of an offer whose colour bears a name. */
  function written(name: string): string {
    const named = { ...farm, colours: new Map([[offer.colour as ColourID, { ...farm.colours.get('ember' as ColourID)!, name }]]) }
    return availabilityCsv(named, [offer], { ...options, columns: ['colour'] }).replace(/^\uFEFFcolour\r\n/, '').replace(/\r\n$/, '')
  }
  it('has the columns asked for, in their order, by RFC 4180 in UTF-8', () => {
    expect(availabilityCsv(farm, [offer], { ...options, columns: ['price', 'colour', 'stems', 'length_from', 'length_to', 'length_unit', 'currency'] }))
      .toBe('\uFEFFprice,colour,stems,length_from,length_to,length_unit,currency\r\n"7.90","ember",20,50,60,"cm","EUR"\r\n')
  })
  it('has every column that can be chosen', () => {
    expect(availabilityCsv(farm, [offer], { ...options, columns: csvColumns }).split('\r\n')[1])
      .toBe(`"${day}","ember","extra",50,60,"cm",2,10,20,"2026-06-03",5,"7.90","EUR"`)
  })
  it.each([
    ['=1+1', '"\'=1+1"'], ['+ember', '"\'+ember"'], ['-ember', '"\'-ember"'], ['@ember', '"\'@ember"'], ['\tember', '"\'\tember"'], ['\rember', '"\'\rember"'], ['\uFF1D1+1', '"\'\uFF1D1+1"'],
  ])('writes a colour named %j so that no spreadsheet runs it', (name, want) => expect(written(name)).toBe(want))
  it.each([
    ['a comma', 'red, pale', '"red, pale"'], ['quotes, which are doubled', 'the "red"', '"the ""red"""'], ['a line’s end', 'red\r\npale', '"red\r\npale"'],
  ])('keeps %s of a colour’s name within its field (RFC 4180, section 2, rules 5 to 7)', (_, name, want) => expect(written(name)).toBe(want))
  it.each<[string, (() => Cents | undefined) | undefined, string]>([
    ['says that a price is to be asked for where the list has none', () => undefined, '"ask",""'], ['leaves them empty without prices', undefined, '"",""'],
    ['writes a price of whole cents', () => 1205 as Cents, '"12.05","EUR"'],
  ])('of price and currency it %s', (_, priceOf, want) => {
    expect(availabilityCsv(farm, [offer], { ...options, priceOf, columns: ['price', 'currency'] }).split('\r\n')[1]).toBe(want)
  })
  it.each([['en-US', '"7.90"'], ['es-MX', '"7.90"'], ['es-ES', '"7,90"'], ['es-AR', '"7,90"']])('writes amounts as %s does', (locale, want) => {
    expect(availabilityCsv(farm, [offer], { ...options, locale, columns: ['price'] }).split('\r\n')[1]).toBe(want)
  })
  it('moves and takes columns, and keeps the last', () => {
    expect(movedUp(['day', 'colour', 'grade'], 'grade')).toEqual(['day', 'grade', 'colour'])
    expect(movedUp(['day', 'colour'], 'day')).toEqual(['day', 'colour'])
    expect(toggled(['day', 'colour'], 'day')).toEqual(['colour'])
    expect(toggled(['colour'], 'colour')).toEqual(['colour'])
    expect(toggled(['colour'], 'cut')).toEqual(['colour', 'cut'])
  })
})

describe('the message', () => {
  const on = (date: string, more: Partial<Offer> = {}): Offer => ({ ...offer, day: date as Day, ...more })
  it.each([
    ['en', 'In bunches of 10:\n\nThu', 'ember, extra, 50 cm: 2 · €7.90'], ['es', 'En manojos de 10:\n\njue', 'ember, extra, 50 cm: 2 · EUR'],
  ] as const)('is told in %s', async (language, head, line) => {
    const text = availabilityText(farm, [offer], await speakerOf(language), { bunch: 10, currency: 'EUR', priceOf: () => 790 as Cents })
    expect(text).toContain(head)
    expect(text).toContain(line)
  })
  it.each<[string, 'en' | 'es', (() => undefined) | undefined, RegExp]>([
    ['says that a price is to be asked for', 'en', () => undefined, /50 cm: 2 · ask$/], ['says so in Spanish', 'es', () => undefined, /50 cm: 2 · a consultar$/],
    ['says nothing of prices without any', 'en', undefined, /50 cm: 2$/],
  ])('%s', async (_, language, priceOf, want) => {
    expect(availabilityText(farm, [offer], await speakerOf(language), { bunch: 10, currency: 'EUR', priceOf })).toMatch(want)
  })
  it.each<[string, Offer[], number]>([
    ['once, where days that follow one another have the same', [on('2026-06-04'), on('2026-06-05'), on('2026-06-06')], 1],
    ['again, where they have other bunches', [on('2026-06-04'), on('2026-06-05', { bunches: 1 })], 2],
    ['again, where a day lies between that has nothing', [on('2026-06-04'), on('2026-06-06')], 2],
    ['not of days without a whole bunch', [on('2026-06-04'), on('2026-06-05', { bunches: 0 })], 1],
  ])('tells its lines %s', async (_, offers, times) => {
    const text = availabilityText(farm, offers, await speakerOf('en'), { bunch: 10, currency: '', priceOf: undefined })
    expect(text.match(/ember/g)).toHaveLength(times)
    expect(text.includes('Each stem is there once')).toBe(times > 1)
  })
  // Ten parts of a text message hold 670 characters where one of them is accented (3GPP TS 23.040, concatenated UCS-2).
  it.each(['en', 'es'] as const)('of ten classes for a week goes into ten parts of a text message, in %s', async (language) => {
    const offers = daysFrom(day, 7).flatMap((date) => Array.from({ length: 10 }, (_, i) => on(date, { bunches: 12 + i })))
    const text = availabilityText({ ...farm, name: 'Kiln Field Flowers' }, offers, await speakerOf(language), { bunch: 10, currency: 'EUR', priceOf: () => 1290 as Cents })
    expect(text.length).toBeLessThanOrEqual(670)
  })
  it('says that there is no whole bunch', async () => {
    const text = availabilityText(farm, [{ ...offer, stems: 9, bunches: 0 }], await speakerOf('en'), { bunch: 10, currency: '', priceOf: undefined })
    expect(text).toMatch(/no whole bunch at the moment/)
  })
})

it.each([
  [{}, { days: 1, bunch: 10 }], [{ days: 3, bunch: 15, columns: ['cut', 'cut', 'nothing'] }, { days: 3, bunch: 15, columns: ['cut'] }],
  [{ days: 4, bunch: 0, columns: 'cut', language: 'de' }, { days: 1, bunch: 10, language: '' }],
])('of what was kept, %j, is taken what is understood', (kept, want) => {
  expect(sound(kept as never)).toMatchObject(want)
})
