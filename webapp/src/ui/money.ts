// Amounts of money as they are shown and typed: whole cents inside, never a fraction.

import { type Cents, mostCents } from '../crop/sale_nouns'
import { locale } from '../messages/messages'

/** An amount as people write it, with the currency where the farm has told one: "€5.20", "5,20 €", "5.20". */
export function amount(cents: Cents, currency: string, its = locale.value): string {
  const [sign, abs] = cents < 0 ? ['−', -cents] : ['', cents]
  // From whole numbers: a float would round some amounts.
  const plain = `${Math.floor(abs / 100)}.${String(abs % 100).padStart(2, '0')}` as Intl.StringNumericLiteral
  return sign + formatOf(its, currency).format(plain)
}

// Making a formatter takes longer than a row of a list: each is made once.
const formats = new Map<string, Intl.NumberFormat>()

function formatOf(its: string, currency: string): Intl.NumberFormat {
  const key = `${its} ${currency}`
  let format = formats.get(key)
  if (!format) {
    const digits = { minimumFractionDigits: 2, maximumFractionDigits: 2 }
    formats.set(key, format = new Intl.NumberFormat(its, currency === '' ? digits : { ...digits, style: 'currency', currency }))
  }
  return format
}

/** Reads an amount that was typed, with a point or a comma; undefined where it is none, or has parts of a cent. */
export function parseAmount(typed: string): Cents | undefined {
  const match = /^(\d{1,7})(?:[.,](\d{1,2}))?$/.exec(typed.trim())
  if (!match) return undefined
  const cents = Number(match[1]) * 100 + Number((match[2] ?? '').padEnd(2, '0'))
  return cents <= mostCents ? (cents as Cents) : undefined
}

/** The same where it may be below zero, as for money that was paid back: "-5.20". */
export function parseSigned(typed: string): Cents | undefined {
  const [, minus, rest = ''] = /^\s*([-−]?)(.*)$/s.exec(typed) ?? []
  const cents = parseAmount(rest)
  return cents === undefined || cents === 0 || minus === '' ? cents : (-cents as Cents)
}

/** An amount for a field to be typed over: "5.20", or "5,20" where that is how the language writes it. */
export function typedAmount(cents: Cents, its = locale.value): string {
  const point = new Intl.NumberFormat(its).formatToParts(0.5).find(({ type }) => type === 'decimal')?.value ?? '.'
  const abs = Math.abs(cents)
  return `${cents < 0 ? '-' : ''}${Math.floor(abs / 100)}${point}${String(abs % 100).padStart(2, '0')}`
}
