// The cooler's pages: what lies in it, one lot traced both ways, claims and what was lost.

import { parseLotCell } from '../crop/lots'
import type { LineID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { href, route } from '../ui/route'
import { ClaimsPage } from './ClaimsPage'
import { CoolerPage } from './CoolerPage'
import './cooler.css'
import { LinePage } from './LinePage'
import { LotPage } from './LotPage'

export function CoolerPlace() {
  const [, page, of] = route.value
  const lot = page === 'lot' && of !== undefined ? parseLotCell(of) : undefined
  if (lot && of !== undefined) return <LotPage key={of} cell={of} lot={lot} />
  if (page === 'lot') return <NoLot />
  if (page === 'claims') return of === undefined ? <ClaimsPage /> : <LinePage key={of} line={of as LineID} />
  return <CoolerPage />
}

function NoLot() {
  return (
    <>
      <PageHead title={t('lot.title')} back={href('shed', 'cooler')} />
      <div class="page"><p class="note">{t('lot.unknown')}</p></div>
    </>
  )
}
