// Money: the season's books, what was paid, what is owed and what channels say they sold; for owners.

import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { route } from '../ui/route'
import { CostsPage } from './CostsPage'
import { InvoicePaymentsPage } from './InvoicePaymentsPage'
import { MoneyPage } from './MoneyPage'
import './money.css'
import { OrderPaymentsPage } from './OrderPaymentsPage'
import { PricesPage } from './PricesPage'
import { StatementPage } from './StatementPage'
import { StatementsPage } from './StatementsPage'
import { UnpaidPage } from './UnpaidPage'
import { ViewPage } from './ViewPage'
import { WorthPage } from './WorthPage'

export function MoneyPlace() {
  const may = useRights()
  const [, page, id = ''] = route.value
  if (!may.manage) return <ForOwners />
  if (page === 'views') return <ViewPage key={id} start={id} />
  if (page === 'prices') return <PricesPage />
  if (page === 'worth') return <WorthPage />
  if (page === 'costs') return <CostsPage />
  if (page === 'unpaid') return <UnpaidPage />
  if (page === 'invoice') return <InvoicePaymentsPage key={id} id={id} />
  if (page === 'order') return <OrderPaymentsPage key={id} id={id} />
  if (page === 'statements') return <StatementsPage />
  if (page === 'statement') return <StatementPage key={id} id={id} />
  return <MoneyPage />
}

function ForOwners() {
  return (
    <>
      <PageHead title={t('place.money')} />
      <div class="page reading"><p class="note">{t('money.owners')}</p></div>
    </>
  )
}
