// Everything of the farm in one file, as the shed sends it.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'

export function ExportCard() {
  return (
    <section class="card">
      <h2>{t('export.title')}</h2>
      <p class="small">{t('export.what')}</p>
      <a class="btn" href="/api/export" download><Icon name="save" />{t('export.save')}</a>
      <p class="small">{t('export.not_backup')}</p>
    </section>
  )
}
