// The first page of what is ahead: the weeks to come, and the ways on.

import { t } from '../messages/messages'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'

export function AheadPage() {
  return (
    <>
      <PageHead title={t('ahead.title')} />
      <div class="page ahead">
        <nav class="ahead-ways" aria-label={t('ahead.ways')}>
          <a class="btn main" href={href('ahead', 'ask')}>{t('promise.title')}</a>
          <a class="btn" href={href('ahead', 'tasks')}>{t('season.tasks')}</a>
          <a class="btn" href={href('ahead', 'division')}>{t('division.title')}</a>
        </nav>
      </div>
    </>
  )
}
