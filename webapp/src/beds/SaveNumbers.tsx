// Saves every number of the page as a file for a spreadsheet, from what is on the device.

import { t } from '../messages/messages'
import { download, fileWord } from '../ui/download'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { answer } from './ages'
import { agesRows, csvOf } from './ages_csv'
import type { Report } from './ages_report'
import { gradersFor } from './AgesGraders'

export function SaveNumbers({ crop, report }: { readonly crop: string; readonly report: Report }) {
  const notebook = useNotebook()
  const save = () => {
    const { people } = notebook.farm.value
    const graders = gradersFor(notebook.member.value, report.spread?.graders ?? [])
      .map((one) => ({ ...one, name: people.get(one.person)?.name ?? one.person }))
    const file = new Blob([csvOf(agesRows(crop, report, graders))], { type: 'text/csv;charset=utf-8' })
    const word = fileWord(crop, '')
    const name = word === '' ? 'ages' : `ages-${word}`
    download(file, `${name}-${answer.value?.asof ?? ''}.csv`)
  }
  return (
    <div class="save-numbers">
      <button type="button" class="btn" onClick={save}><Icon name="save" />{t('ages.csv')}</button>
      <p class="small">{t('ages.csv.why')}</p>
    </div>
  )
}
