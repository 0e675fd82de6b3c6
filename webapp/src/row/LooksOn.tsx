// Row on a device whose person looks on: nothing is counted here.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { SyncChip } from '../ui/SyncChip'

export function LooksOn() {
  return (
    <>
      <PageHead title={t('place.row')}><SyncChip /></PageHead>
      <div class="page reading">
        <Say text={t('looks_on')} />
        <p>{t('looks_on.row')}</p>
        <div class="buttons">
          <a class="btn tall" href={href('beds')}><Icon name="beds" />{t('row.to_beds')}</a>
          <a class="btn tall" href={href('row', 'care')}><Icon name="care" />{t('care.title')}</a>
        </div>
      </div>
    </>
  )
}
