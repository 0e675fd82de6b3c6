// The books in words: sentences, and what a place of a view is called.

import type { BedID, ColourID, Day, Farm, LengthUnit, Millimetres, PlantID, StockID } from '../crop/nouns'
import type { BuyerID, Cents, ChannelID } from '../crop/sale_nouns'
import { weekCode } from '../crop/week'
import { dateName, dayAndMonth, hasMessage, listed, locale, t, tCode } from '../messages/messages'
import { lengthName } from '../ui/lengths'
import { bedName, buyerWritten } from '../ui/lot_words'
import { amount } from '../ui/money'
import { codeOf } from '../ui/words'
import type { Books, Dim, Row } from './books'
import type { PricePoint } from './prices_line'
import { bedsThatPaid, leftAStem } from './season_sum'
import { channelName } from './StatementsPage'

/** Cents with parts as an amount, to the cent; a dash where there is none. */
export function price(cents: number | null | undefined, currency: string): string {
  return cents === null || cents === undefined ? '–' : amount((Math.sign(cents) * Math.round(Math.abs(cents)) || 0) as Cents, currency)
}

/** "Season 2026 has brought **€1,094.50** after everything, **€0.32** for each stem sold." */
export function seasonSentence({ season, all, currency }: Books): string {
  const lost = all.left_cents < 0
  const of = { season: String(season), sum: amount(Math.abs(all.left_cents) as Cents, currency) }
  const said = t(lost ? 'books.lost' : 'books.brought', of)
  const stem = leftAStem(all)
  return stem === undefined || lost ? t('books.and_nothing', { said }) : t('books.and_stem', { said, price: price(stem, currency) })
}

/** Beds that are named in a sentence at most; of more only how many they are. */
const mostNamed = 4

/** Which beds paid; '' where no bed is in the books. */
export function bedsSentence(farm: Farm, rows: readonly Row[]): string {
  const { paid, not } = bedsThatPaid(rows)
  const names = (some: readonly Row[]) => listed(some.map(({ key }) => bedName(farm, key as BedID)))
  const n = paid.length
  if (n + not.length === 0) return ''
  if (not.length === 0) return t('books.beds.all', { n, beds: names(paid) })
  if (n === 0) return t('books.beds.none', { n: not.length })
  if (n <= mostNamed && not.length <= mostNamed) return `${t('books.beds.paid', { n, beds: names(paid) })} ${t('books.beds.not', { n: not.length, beds: names(not) })}`
  const said = t('books.beds.some', { n })
  return not.length <= mostNamed ? t('books.beds.some.not', { said, beds: names(not) }) : t('books.beds.counts', { said, n: not.length })
}

/** What a place of a view is called. */
export function keyName(farm: Farm, by: Dim, key: string): string {
  if (key === '') return t(`books.untold.${by}`)
  switch (by) {
    case 'channel': return channelName(farm.sales, key as ChannelID)
    case 'buyer': return buyerWritten(farm, key as BuyerID)
    case 'colour': return farm.colours.get(key as ColourID)?.name ?? t('books.unknown')
    case 'grade': return worded(`grade.${key}`)
    case 'length': return lengthNamed(key, farm.unit)
    case 'age_class': return worded(`books.age_class.${key}`)
    case 'day': return dateName(key as Day)
    case 'month': return monthName(key)
    case 'age': return t('season.in_ground', { age: key })
    case 'stock': return (farm.stocks.get(key as StockID) ?? farm.withdrawn.stocks.get(key as StockID))?.name ?? t('books.unknown')
    case 'bed': return bedName(farm, key as BedID)
    case 'plant': return codeOf(farm, key as PlantID)
    case 'week': return t('books.week', { week: weekCode(key as Day), day: dayAndMonth(key as Day) })
    case 'what': return whatName(key)
  }
}

/** Of "500-600", the bounds in millimetres. */
function lengthNamed(key: string, unit: LengthUnit): string {
  const [lo, hi] = key.split('-').map(Number)
  return lengthName({ lo: lo as Millimetres, hi: hi as Millimetres }, unit)
}

/** Of "2026-06". */
function monthName(key: string): string {
  return new Intl.DateTimeFormat(locale.value, { month: 'long', year: 'numeric', timeZone: 'UTC' }).format(new Date(`${key}-01`))
}

/** A kind of cost or work, or why stems were claimed or written off. */
function whatName(key: string): string {
  for (const of of ['money.kind', 'work.kind', 'claim.reason', 'shrink']) {
    if (hasMessage(`${of}.${key}`)) return worded(`${of}.${key}`)
  }
  return t('books.unknown')
}

function worded(key: string): string {
  return hasMessage(key) ? tCode(key, {}) : t('books.unknown')
}

/** Over the season, and in which weeks most and least. */
export function pricesSentence(farm: Farm, { all, currency }: Books, points: readonly PricePoint[]): string {
  if (all.price_a_stem === null) return t('prices.none')
  const said = { price: price(all.price_a_stem, currency) }
  const [first, ...others] = [...points].sort((a, b) => b.cents - a.cents)
  const last = others.at(-1)
  if (!first || !last) return t('prices.one', said)
  const week = (point: PricePoint) => keyName(farm, 'week', point.week).replace('-', '\u2011') // no line ends within it
  return t('prices.range', { ...said, hi: price(first.cents, currency), top: week(first), lo: price(last.cents, currency), least: week(last) })
}

/** What a bunch had to bring, how many had to be sold, and how many pay for what is fixed. */
export function evenSentences({ all, budget, currency }: Books): string[] {
  if (!budget || budget.price === null || budget.break_even_price === null) return [t('even.none')]
  const said = [t('even.price', { price: price(budget.price, currency), even: price(budget.break_even_price, currency) })]
  if (budget.break_even_bunches !== null) said.push(t('even.bunches', { even: Math.max(0, Math.ceil(budget.break_even_bunches)), n: Math.round(budget.bunches) }))
  if (all.fixed_cents > 0) said.push(budget.pays_fixed === null ? t('even.never') : t('even.fixed', { n: Math.ceil(budget.pays_fixed) }))
  return said
}
