// A farm without beds: its first one is planted here, or comes from spreadsheets.

import { t } from '../messages/messages'
import { useRights } from './rights'
import { href } from './route'

const importCommand = 'corymb import -plants plants.csv -cuts cuts.csv'

export function EmptyFarm() {
  const may = useRights()
  return (
    <div class="card">
      <p>{t('empty')}</p>
      {may.manage ? <a class="btn main" href={href('beds', 'tray')}>{t('empty.plant')}</a> : <p>{t('empty.owner')}</p>}
      {may.manage && <details><summary>{t('empty.sheets')}</summary><FromSpreadsheets /></details>}
    </div>
  )
}

export function FromSpreadsheets() {
  return (
    <>
      <p>{t('empty.import')}</p>
      <p><code>{importCommand}</code></p>
      <p class="small">{t('empty.import.when')}</p>
    </>
  )
}
