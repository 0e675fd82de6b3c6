// Asking the shed for an invoice: it alone gives numbers, so nothing of this works without it.

import type { Discount } from '../crop/discount'
import type { Day } from '../crop/nouns'
import type { BuyerID, ClaimID, InvoiceID, LineID, OrderID } from '../crop/sale_nouns'
import { hasMessage, tCode, type Key } from '../messages/messages'

export interface BillAsked {
  readonly buyer: BuyerID
  readonly orders: readonly OrderID[]
  readonly date: Day
  /** What each line is, in the language in use. */
  readonly words: Readonly<Record<LineID, string>>
  /** What a delivery's fee is called. */
  readonly fee: string
  /** null for none. */
  readonly discount: (Discount & { readonly words: string }) | null
}

export type Answer = { readonly id: InvoiceID; readonly number: string } | { readonly problem: string }

const longestWait = 30_000

export function askInvoice(asked: BillAsked): Promise<Answer> {
  return ask('/api/invoices', asked)
}

/** Of a claim, or of bunches of a line that were billed and taken back, on one invoice. */
export type CreditAsked = ({ readonly claim: ClaimID } | { readonly line: LineID }) & { readonly invoice: InvoiceID; readonly date: Day; readonly words: string }

export function askCredit(asked: CreditAsked): Promise<Answer> {
  return ask('/api/credits', asked)
}

export function askVoid(invoice: InvoiceID, date: Day): Promise<Answer> {
  return ask(`/api/invoices/${encodeURIComponent(invoice)}/void`, { date })
}

async function ask(path: string, body: unknown): Promise<Answer> {
  try {
    const answer = await fetch(path, {
      method: 'POST', body: JSON.stringify(body), headers: { 'content-type': 'application/json' }, signal: AbortSignal.timeout(longestWait),
    })
    const told: unknown = await answer.json()
    return answer.ok ? made(told) : { problem: refusedText(told) }
  } catch {
    return { problem: refusedText({ error: { code: 'no_shed' } }) }
  }
}

function made(told: unknown): Answer {
  const { id, number } = told as { id?: unknown; number?: unknown }
  if (typeof id === 'string' && typeof number === 'string') return { id: id as InvoiceID, number }
  return { problem: refusedText({}) }
}

/** Why nothing was billed, in the language in use; what the shed says where this app has no words for it. */
export function refusedText(told: unknown): string {
  const { error, number } = told as { error?: { code?: unknown; text?: unknown }; number?: unknown }
  const key = `papers.refused.${String(error?.code)}`
  if (hasMessage(key)) return tCode(key, { number: typeof number === 'string' ? number : '' })
  return typeof error?.text === 'string' ? error.text : tCode('papers.refused.other' satisfies Key, {})
}
