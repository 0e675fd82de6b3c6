// Papers of the shed: of a day, invoices, and one invoice.

import { route } from '../ui/route'
import { InvoicePage } from './InvoicePage'
import { InvoicesPage } from './InvoicesPage'
import './papers.css'
import { PapersPage } from './PapersPage'

export function PapersPlace() {
  const [, , page, id] = route.value
  if (page === 'invoices') return <InvoicesPage />
  if (page === 'invoice' && id !== undefined) return <InvoicePage key={id} id={id} />
  return <PapersPage />
}
