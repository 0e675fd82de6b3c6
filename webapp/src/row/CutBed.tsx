// What one bed is to give: a tap on its name begins the walk there.

import type { CutList, CutRow } from '../crop/cut_list'
import type { BedID } from '../crop/nouns'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { ReentryWarning } from '../ui/ReentryWarning'
import { go } from '../ui/route'
import { today } from '../ui/today'
import { type CutChoices, rowKey } from './cut_choices'
import { leftOf } from './cut_today'
import { CutRowLine } from './CutRowLine'
import { Session } from './session'

interface CutBedProps {
  readonly bed: BedID
  readonly list: CutList
  readonly rows: readonly CutRow[]
  readonly choices: CutChoices
}

export function CutBed({ bed, list, rows, choices }: CutBedProps) {
  const notebook = useNotebook()
  const name = notebook.farm.value.beds.get(bed)?.name ?? t('bed.unknown')
  const left = rows.reduce((sum, row) => sum + leftOf(choices, today.value, row), 0)
  const begin = () => {
    Session.of(notebook).open(bed)
    go('row')
  }
  return (
    <section class="card cut-bed">
      <button type="button" class="cut-bed-go" onClick={begin}>
        <span>
          <span class="name">{name}</span>
          <span class="small block">{left > 0 ? t('cuts.bed', { n: left, buckets: t('cuts.buckets', { n: Math.ceil(left / choices.bucket) }) }) : t('cuts.bed.done')}</span>
        </span>
        <span class="go">{t('cuts.walk')}<Icon name="on" /></span>
      </button>
      <ReentryWarning bed={bed} />
      <ul>{rows.map((row) => <CutRowLine key={rowKey(row)} list={list} row={row} choices={choices} />)}</ul>
    </section>
  )
}
