// What a cell says was paid of a sale: all of it, on its day or another, an amount, or nothing.

import type { Day } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { type DateForm, readCents, readDay } from './cells'
import { plain } from './columns'

const yes = new Set(['yes', 'y', 'x', 'paid', 'paid_in_full', 'full', 'true', 'si', 's', 'pagado', 'pagada', 'verdadero', 'total'])
const no = new Set(['', 'no', 'n', 'unpaid', 'open', 'false', 'due', 'pendiente', 'impago', 'impaga', 'falso', 'sin_pagar'])

export interface PaidTold {
  readonly date: Day
  readonly cents: Cents
}

/** Nothing is `null`; undefined where it cannot be read, or says that all was paid of what has no price. */
export function readPaid(text: string, sold: PaidTold, form: DateForm): PaidTold | null | undefined {
  const word = text.trim() === '✓' ? 'x' : plain(text)
  const day = readDay(text.trim(), form)
  if (day !== undefined || yes.has(word)) return sold.cents > 0 ? { date: day ?? sold.date, cents: sold.cents } : undefined
  const cents = readCents(text.trim())
  if (cents === 0 || cents === undefined && no.has(word)) return null
  return cents === undefined ? undefined : { date: sold.date, cents }
}
