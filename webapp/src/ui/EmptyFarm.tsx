// A farm without beds, and how its plants come in.

import { t } from '../messages/messages'

const importCommand = 'corymb import -plants plants.csv -cuts cuts.csv'

export function EmptyFarm() {
  return (
    <div class="card">
      <p>{t('empty')}</p>
      <p>{t('empty.import')}</p>
      <p><code>{importCommand}</code></p>
      <p class="small">{t('empty.import.when')}</p>
    </div>
  )
}
