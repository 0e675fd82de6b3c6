// What is sent and safe, on a page of its own: where the sign on every page leads.

import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { DevicesLink } from './DevicesLink'
import { SyncCard } from './SyncCard'

export function SyncPage() {
  const may = useRights()
  return (
    <>
      <PageHead title={t('sync.page')} back={href('shed')} />
      <div class="page reading">
        <SyncCard />
        {may.manage && <DevicesLink />}
      </div>
    </>
  )
}
