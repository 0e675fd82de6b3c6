import { describe, expect, it } from 'vitest'
import type { Colour, ColourID, Day, Farm, Millimetres } from '../crop/nouns'
import type { BunchID, Cents, Channel, ChannelID, Price, PriceID } from '../crop/sale_nouns'
import { sellingFarm } from '../crop/testing/cutting'
import { speakerOf } from '../messages/messages'
import { availabilityText } from '../papers/availability_text'
import { weeksCsv } from './weeks_csv'
import type { OfferRule, WeekOffers } from './weeks_offers'
import { pricesIn } from './weeks_price'
import { sound } from './weeks_settings'
import { weeksText } from './weeks_text'

const ten: OfferRule = { id: 'ten' as BunchID, name: 'Ten firsts', stems: 10, grade: 'first', length: 400 as Millimetres }
const loose: OfferRule = { id: '', name: '=SUM(A1)', stems: 5, grade: '', length: 0 as Millimetres }
const weeks: WeekOffers[] = [
  { from: '2026-06-03' as Day, to: '2026-06-07' as Day, chance: 0.93, offers: [{ rule: ten, colour: 'ember' as ColourID, bunches: 1, stems: 10 }, { rule: loose, colour: '', bunches: 4, stems: 20 }] },
  { from: '2026-06-08' as Day, to: '2026-06-14' as Day, chance: 1, offers: [] },
]

function farmWith(told: Partial<Farm> = {}): Farm {
  const farm = sellingFarm({ terms: { currency: 'EUR' } })
  const price = { id: 'p' as PriceID, channel: 'ch' as ChannelID, buyer: '', colour: '', bunch: ten.id, from: '', cents: 560 as Cents } as Price
  return {
    ...farm, name: 'Kiln Field', colours: new Map([['ember' as ColourID, { id: 'ember', name: 'ember' } as Colour]]),
    sales: { ...farm.sales, prices: new Map([[price.id, price]]), channels: new Map([['ch' as ChannelID, { id: 'ch', name: 'Florists' } as Channel]]) }, ...told,
  }
}

describe('the message of the coming weeks', () => {
  it('says a line for each offer under its week, and nothing of a week without any', async () => {
    expect(weeksText(farmWith(), weeks, await speakerOf('en'), undefined)).toBe([
      'Kiln Field, on offer for the coming weeks:', '', 'June 3–7', 'ember, first, 40 cm: 1 bunch of 10', 'mixed colours: 4 bunches of 5', '',
      'Flowers follow the weather: ask for the day you need.',
    ].join('\n'))
  })

  it('bears the name that stands on the sheet', async () => {
    const farm = farmWith()
    const sold = { ...farm, sales: { ...farm.sales, terms: { ...farm.sales.terms, seller: 'Kiln Flowers\nPump Road 9' } } }
    expect(weeksText(sold, weeks, await speakerOf('en'), undefined)).toMatch(/^Kiln Flowers, on offer/)
    expect(availabilityText(sold, [], await speakerOf('en'), { bunch: 10, currency: 'EUR', priceOf: undefined })).toMatch(/^Available from Kiln Flowers\./)
  })

  it('has prices where they were asked for, in Spanish too, and says of which one must ask', async () => {
    const farm = farmWith()
    const text = weeksText(farm, weeks, await speakerOf('es'), pricesIn(farm.sales, 'ch' as ChannelID))
    expect(text).toMatch(/ember, primera, 40 cm: 1 manojo de 10 · .*5[.,]60/)
    expect(text).toContain('colores mezclados: 4 manojos de 5 · a consultar')
  })

  it('says so where nothing is safe', async () => {
    expect(weeksText(farmWith({ name: '' }), [], await speakerOf('en'), undefined)).toMatch(/^On offer for the coming weeks:\n\nnothing certain yet\./)
  })
})

describe('the file of the coming weeks', () => {
  it('has a row for each offer, and no formula', () => {
    expect(weeksCsv(farmWith(), weeks, 'en-GB', undefined)).toBe([
      '\uFEFFweek,from,to,colour,bunch,grade,length_from,length_unit,bunches,stems_per_bunch,stems',
      '"2026-W23","2026-06-03","2026-06-07","ember","Ten firsts","first",40,"cm",1,10,10',
      '"2026-W23","2026-06-03","2026-06-07","","\'=SUM(A1)","","","",4,5,20', '',
    ].join('\r\n'))
  })

  it('has prices where they were asked for, with the comma of the language', () => {
    const farm = farmWith()
    const [head, first, second] = weeksCsv(farm, weeks, 'es-ES', pricesIn(farm.sales, 'ch' as ChannelID)).split('\r\n')
    expect([head?.endsWith(',price,currency'), first?.endsWith(',10,"5,60","EUR"'), second?.endsWith(',20,"ask",""')]).toEqual([true, true, true])
  })
})

describe('prices', () => {
  it.each([['' as const], ['gone' as ChannelID]])('are none without a channel that there is (%j)', (channel) => {
    expect(pricesIn(farmWith().sales, channel)).toBeUndefined()
  })
})

it.each([
  [{}, { weeks: 4, without: [], channel: '', language: '' }],
  [{ weeks: 8, without: ['ten'], channel: 'ch', language: 'es' }, { weeks: 8, without: ['ten'], channel: 'ch', language: 'es' }],
  [{ weeks: 3, without: [7], channel: 9, language: 'de' }, { weeks: 4, without: [], channel: '', language: '' }],
])('settings %j are taken as far as they are understood', (told, expected) => {
  expect(sound(told as Parameters<typeof sound>[0])).toEqual(expected)
})
