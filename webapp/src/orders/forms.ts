// Channels, buyers, rules for bunches, prices and the farm's terms as they are typed, and what keeps each from being one.

import { parseDay } from '../crop/day'
import type { Day, Grade, LengthUnit, Millimetres, ToldGrade } from '../crop/nouns'
import { type Bunch, type Buyer, type Cents, type Channel, type ChannelID, type ChannelKind, mostBunchStems, type Price, type SaleTerms, type Weekdays } from '../crop/sale_nouns'
import { amountFrom, amountTyped, lengthFrom, lengthTyped, percentFrom, percentTyped } from './numbers'
import { wholeFrom } from '../ui/whole_number'

/** The grades that have a floor, the best first. */
export const soldGrades: readonly Exclude<Grade, 'out'>[] = ['extra', 'first', 'second']

export interface ChannelForm {
  readonly name: string
  readonly kind: ChannelKind
  readonly floors: Readonly<Record<(typeof soldGrades)[number], string>>
  readonly commission: string
  readonly fee: string
  readonly buyerPays: boolean
  readonly cutoffDays: string
  readonly cutoffTime: string
  readonly days: Weekdays
}

export type ChannelProblem = 'name' | 'floor' | 'commission' | 'fee' | 'cutoff_days' | 'cutoff_time'

export function channelForm(c: Channel): ChannelForm {
  const floor = (grade: Grade) => amountTyped(c.floor.get(grade) ?? (0 as Cents))
  return {
    name: c.name, kind: c.kind, floors: { extra: floor('extra'), first: floor('first'), second: floor('second') }, commission: percentTyped(c.commission),
    fee: amountTyped(c.fee), buyerPays: c.buyerPays, cutoffDays: String(c.cutoffDays), cutoffTime: c.cutoffTime, days: c.days,
  }
}

export function readChannelForm(form: ChannelForm, id: ChannelID): { readonly channel: Channel } | { readonly problems: readonly ChannelProblem[] } {
  const problems: ChannelProblem[] = []
  const floors = soldGrades.map((grade) => [grade, noneOr(amountFrom(form.floors[grade]))] as const)
  const commission = percentFrom(form.commission)
  const fee = noneOr(amountFrom(form.fee))
  const cutoffDays = wholeFrom(form.cutoffDays, 0, 60)
  if (form.name.trim() === '') problems.push('name')
  if (floors.some(([, cents]) => cents === undefined)) problems.push('floor')
  if (commission === undefined) problems.push('commission')
  if (fee === undefined) problems.push('fee')
  if (cutoffDays === undefined) problems.push('cutoff_days')
  if (form.cutoffTime !== '' && !/^([01]\d|2[0-3]):[0-5]\d$/.test(form.cutoffTime)) problems.push('cutoff_time')
  if (problems.length > 0 || commission === undefined || fee === undefined || cutoffDays === undefined) return { problems }
  const floor = new Map<Grade, Cents>(floors.flatMap(([grade, cents]) => (cents ? [[grade, cents]] : [])))
  const { kind, buyerPays, cutoffTime, days } = form
  return { channel: { id, name: form.name.trim(), kind, floor, commission, fee, buyerPays, cutoffDays, cutoffTime, days } }
}

/** A floor or fee of zero is none. */
function noneOr(amount: Cents | 'zero' | undefined): Cents | undefined {
  return amount === 'zero' ? (0 as Cents) : amount
}

export type BuyerProblem = 'name' | 'channel'

export function buyerProblems(buyer: Buyer): BuyerProblem[] {
  return [...buyer.name.trim() === '' ? ['name' as const] : [], ...(buyer.channel as string) === '' ? ['channel' as const] : []]
}

export interface BunchForm {
  readonly name: string
  readonly stems: string
  readonly grade: ToldGrade
  readonly length: string
}

export type BunchProblem = 'name' | 'stems' | 'length'

export function bunchForm(b: Bunch, unit: LengthUnit): BunchForm {
  return { name: b.name, stems: String(b.stems), grade: b.grade, length: lengthTyped(b.length, unit) }
}

export function readBunchForm(form: BunchForm, before: Bunch, unit: LengthUnit): { readonly bunch: Bunch } | { readonly problems: readonly BunchProblem[] } {
  const stems = wholeFrom(form.stems, 1, mostBunchStems)
  const length: Millimetres | undefined = lengthFrom(form.length, unit, before.length)
  const problems: BunchProblem[] = []
  if (form.name.trim() === '') problems.push('name')
  if (stems === undefined) problems.push('stems')
  if (length === undefined) problems.push('length')
  if (stems === undefined || length === undefined || problems.length > 0) return { problems }
  return { bunch: { id: before.id, name: form.name.trim(), stems, grade: form.grade, length } }
}

export interface PriceForm extends Pick<Price, 'channel' | 'buyer' | 'bunch'> {
  readonly from: string
  readonly amount: string
}

export type PriceProblem = 'channel' | 'bunch' | 'from' | 'amount' | 'zero'

export function readPriceForm(form: PriceForm): { readonly price: Omit<Price, 'id' | 'colour'> } | { readonly problems: readonly PriceProblem[] } {
  const from: Day | '' | undefined = form.from === '' ? '' : parseDay(form.from)
  const cents = amountFrom(form.amount)
  const problems: PriceProblem[] = []
  if ((form.channel as string) === '' && form.buyer === '') problems.push('channel')
  if ((form.bunch as string) === '') problems.push('bunch')
  if (from === undefined) problems.push('from')
  if (cents === undefined || cents === 0) problems.push('amount')
  if (cents === 'zero') problems.push('zero')
  if (from === undefined || cents === undefined || cents === 'zero' || problems.length > 0) return { problems }
  return { price: { channel: form.channel, buyer: form.buyer, bunch: form.bunch, from, cents } }
}

/** What a broken promise costs is typed where promises are. */
export type TypedTerms = Omit<SaleTerms, 'breakCost'>

export interface TermsForm {
  readonly currency: string
  readonly seller: string
  readonly coolerDays: string
  readonly overCut: string
  readonly payDays: string
  readonly taxName: string
  readonly taxRate: string
}

export type TermsProblem = 'currency' | 'cooler_days' | 'over_cut' | 'pay_days' | 'tax_rate'

export function termsForm(terms: TypedTerms): TermsForm {
  const told = (n: number) => (n === 0 ? '' : String(n))
  return {
    currency: terms.currency, seller: terms.seller, coolerDays: told(terms.coolerDays), overCut: told(terms.overCut), payDays: told(terms.payDays),
    taxName: terms.taxName, taxRate: percentTyped(terms.taxRate),
  }
}

/** isCurrency tells codes of ISO 4217 from other three letters, as far as the device knows them. */
export function readTermsForm(form: TermsForm, isCurrency: (code: string) => boolean): { readonly terms: TypedTerms } | { readonly problems: readonly TermsProblem[] } {
  const number = (text: string, most: number) => (text.trim() === '' ? 0 : wholeFrom(text, 0, most))
  const currency = form.currency.trim().toUpperCase()
  const [coolerDays, overCut, payDays] = [number(form.coolerDays, 60), number(form.overCut, 100), number(form.payDays, 365)]
  const taxRate = percentFrom(form.taxRate)
  const problems: TermsProblem[] = []
  if (currency !== '' && !(/^[A-Z]{3}$/.test(currency) && isCurrency(currency))) problems.push('currency')
  if (coolerDays === undefined) problems.push('cooler_days')
  if (overCut === undefined) problems.push('over_cut')
  if (payDays === undefined) problems.push('pay_days')
  if (taxRate === undefined) problems.push('tax_rate')
  if (coolerDays === undefined || overCut === undefined || payDays === undefined || taxRate === undefined || problems.length > 0) return { problems }
  return { terms: { currency, seller: form.seller.trim(), coolerDays, overCut, payDays, taxName: form.taxName.trim(), taxRate } }
}
