// Invoices for tests, as the shed alone writes them.

import type { Fact } from '../../log/change'
import { Facts } from '../facts'
import type { Cents, Invoice, InvoiceID, InvoiceLine } from '../sale_nouns'

export function rowWith(told: Partial<InvoiceLine> = {}): InvoiceLine {
  return { line: '', due: '', bunches: 0, stems: 0, cents: 0 as Cents, words: '', ...told }
}

export function invoiceSaid(id: string, lines: readonly Partial<InvoiceLine>[], told: Partial<Pick<Invoice, 'date' | 'void' | 'credits' | 'claim'>> = {}): Fact[] {
  const facts = new Facts('invoice', id as InvoiceID, 'money').set('invoice_no', id).told('date', told.date ?? '').told('void', told.void ?? '').told('credits', told.credits ?? '').told('claim', told.claim ?? '')
  lines.map(rowWith).forEach(({ line, due, bunches, stems, cents, words }, i) => {
    facts.say('add', 'rows', `${String(i + 1).padStart(3, '0')}|${line}|${due}|${bunches}|${stems}|${cents}|${words}`)
  })
  return facts.list
}
