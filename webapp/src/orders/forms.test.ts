import { describe, expect, it } from 'vitest'
import { changing } from '../crop/deed'
import { farmID, farmSaid } from '../crop/testing/said'
import type { ColourID } from '../crop/nouns'
import { priceFacts, termsFacts } from '../crop/sale_facts'
import type { BunchID, Buyer, BuyerID, ChannelID, SaleTerms } from '../crop/sale_nouns'
import { buyersFound, isNamedAlike } from './buyers'
import { type BunchForm, bunchForm, buyerProblems, type ChannelForm, channelForm, type PriceForm, readBunchForm, readChannelForm, readPriceForm, readTermsForm, type TermsForm, termsForm } from './forms'
import { priceTables } from './price_list'
import { channel, corner, day, ground, priceWith, studio, ten } from './testing/sold'

const farm = farmSaid([...ground, ...priceFacts(priceWith('own', 700, { buyer: studio }))])

describe('a channel that is typed', () => {
  const form = channelForm(channel)
  it('is read back as it was', () => expect(readChannelForm(form, channel.id)).toEqual({ channel }))
  it.each<[string, Partial<ChannelForm>, string[]]>([
    ['no name', { name: ' ' }, ['name']], ['a floor that is none', { floors: { extra: 'x', first: '', second: '' } }, ['floor']],
    ['a floor below zero', { floors: { extra: '-1', first: '', second: '' } }, ['floor']], ['more than all as commission', { commission: '101' }, ['commission']],
    ['commission with three decimals', { commission: '12.555' }, ['commission']], ['a fee that is none', { fee: 'free' }, ['fee']], ['a huge fee', { fee: '99999999' }, ['fee']],
    ['61 days of cut-off', { cutoffDays: '61' }, ['cutoff_days']], ['an hour that there is not', { cutoffTime: '24:00' }, ['cutoff_time']],
    ['several wrong', { name: '', fee: '-2' }, ['name', 'fee']],
  ])('is none with %s', (_, part, problems) => expect(readChannelForm({ ...form, ...part }, channel.id)).toEqual({ problems }))
  it('has no floor of zero and no fee of zero', () => {
    const read = readChannelForm({ ...form, floors: { extra: '0', first: '0.5', second: '' }, fee: '0' }, channel.id)
    expect('channel' in read && [[...read.channel.floor], read.channel.fee]).toEqual([[['first', 50]], 0])
  })
})

describe('a rule for bunches that is typed', () => {
  const form = bunchForm(ten, 'in')
  it('is read back to the millimetre', () => expect(readBunchForm(form, ten, 'in')).toEqual({ bunch: ten }))
  it.each<[string, Partial<BunchForm>, string[]]>([
    ['no name', { name: '' }, ['name']], ['no stems', { stems: '0' }, ['stems']], ['stems below none', { stems: '-10' }, ['stems']], ['501 stems', { stems: '501' }, ['stems']],
    ['a length that is none', { length: 'arm' }, ['length']],
  ])('is none with %s', (_, part, problems) => expect(readBunchForm({ ...form, ...part }, ten, 'in')).toEqual({ problems }))
})

describe('a price that is typed', () => {
  const form: PriceForm = { channel: channel.id, buyer: '', bunch: ten.id, from: '2026-06-01', amount: '5.20' }
  it.each([['2026-06-01'], ['']])('holds from "%s"', (from) => expect(readPriceForm({ ...form, from })).toEqual({ price: { channel: channel.id, buyer: '', bunch: ten.id, from, cents: 520 } }))
  it.each<[string, Partial<PriceForm>, string[]]>([
    ['zero', { amount: '0' }, ['zero']], ['nothing', { amount: '' }, ['amount']], ['an amount below zero', { amount: '-5' }, ['amount']], ['parts of a cent', { amount: '5.205' }, ['amount']],
    ['a huge amount', { amount: '1000001' }, ['amount']], ['no rule', { bunch: '' as BunchID }, ['bunch']], ['a day that there is not', { from: '2026-13-01' }, ['from']],
    ['nobody’s list', { channel: '' as ChannelID }, ['channel']],
  ])('is none with %s', (_, part, problems) => expect(readPriceForm({ ...form, ...part })).toEqual({ problems }))
})

describe('terms that are typed', () => {
  const terms = { currency: 'EUR', seller: 'Farm\nLane 1', coolerDays: 6, overCut: 5, payDays: 14, taxRate: 1950, taxName: 'VAT' }
  const known = (code: string) => code === 'EUR'
  it('are read back as they were', () => expect(readTermsForm(termsForm(terms), known)).toEqual({ terms }))
  it('say nothing of what a broken promise costs', () => {
    const start: SaleTerms = { ...terms, breakCost: 400 }
    expect(changing(termsFacts({ id: farmID }, start), termsFacts({ id: farmID }, { ...terms, overCut: 6 })).facts.map(({ field }) => field)).toEqual(['over_cut'])
  })
  it.each<[string, Partial<TermsForm>, string[]]>([
    ['a currency that there is not', { currency: 'EEE' }, ['currency']], ['a sign for a currency', { currency: '€' }, ['currency']], ['61 days in the cooler', { coolerDays: '61' }, ['cooler_days']],
    ['101 percent cut over', { overCut: '101' }, ['over_cut']], ['a negative number of days', { payDays: '-1' }, ['pay_days']], ['a tax with three decimals', { taxRate: '7.125' }, ['tax_rate']],
  ])('are none with %s', (_, part, problems) => expect(readTermsForm({ ...termsForm(terms), ...part }, known)).toEqual({ problems }))
  it.each([['eur', 'EUR'], ['', '']])('take the currency "%s" for "%s"', (typed, currency) => {
    const read = readTermsForm({ ...termsForm(terms), currency: typed }, known)
    expect('terms' in read && read.terms.currency).toBe(currency)
  })
})

describe('a buyer', () => {
  const buyer = (part: Partial<Buyer>): Buyer => ({ id: 'x' as BuyerID, name: 'New', channel: channel.id, address: '', phone: '', email: '', note: '', accepts: new Map(), ...part })
  it.each<[string, Partial<Buyer>, string[]]>([['is one', {}, []], ['needs a name', { name: '  ' }, ['name']], ['needs a channel', { channel: '' as ChannelID }, ['channel']]])('%s', (_, part, problems) => {
    expect(buyerProblems(buyer(part))).toEqual(problems)
  })
  it.each([['', ['Córner', 'Studio Nord']], ['corn', ['Córner']], ['NORD stu', ['Studio Nord']], ['x', []]])('is found by "%s"', (typed, names) => {
    expect(buyersFound(farm.sales, typed).map(({ name }) => name)).toEqual(names)
  })
  it.each([['corner ', true], ['Corner 2', false], ['', false]])('of the name "%s" is called as another: %s', (name, alike) => expect(isNamedAlike(farm.sales, { id: 'x' as BuyerID, name })).toBe(alike))
  it('is not called as itself', () => expect(isNamedAlike(farm.sales, { id: corner, name: 'Córner' })).toBe(false))
})

describe('a price list', () => {
  it.each([
    ['2026-06-07', [['', 'spring', 'holds'], ['', 'june', 'ahead'], ['garnet', 'garnet', 'holds']]],
    ['2026-06-08', [['', 'spring', 'past'], ['', 'june', 'holds'], ['garnet', 'garnet', 'holds']]],
  ])('on %s has its prices by colour and day', (on, rows) => {
    const [table] = priceTables(farm, { channel: channel.id }, day(on))
    expect([table?.bunch?.name, table?.rows.map(({ price, state }) => [price.colour as ColourID, price.id, state])]).toEqual(['Ten first', rows])
  })
  it('of a buyer has their own', () => expect(priceTables(farm, { buyer: studio }, day('2026-06-01')).flatMap(({ rows }) => rows.map(({ price }) => price.id))).toEqual(['own']))
})
