// Ages: what a plant gives in each season in the ground, one crop at a time.

import { useEffect, useState } from 'preact/hooks'
import { dayName, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { answer, fetching, refreshAges, type Report } from './ages'
import { agesSentence, inHundred, leadingAge, noteText } from './ages_sentence'
import { GradesTable, StemsTable } from './AgesTables'
import './ages.css'
import { CropChoice } from './CropChoice'
import { GradeBars } from './GradeBars'
import { ShedFailed } from './ShedFailed'
import { StemsChart } from './StemsChart'

export function AgesPage() {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  const [chosen, setChosen] = useState('')
  useEffect(() => { void refreshAges(notebook) }, [live])
  const species = answer.value?.species ?? []
  const shown = species.find((one) => one.species === chosen) ?? species[0]
  return (
    <>
      <PageHead title={t('ages.title')} back={href('beds')}>
        <span class="aside" role="status">{whence()}</span>
      </PageHead>
      <div class="page">
        <CropChoice species={species} shown={shown} onChoose={setChosen} />
        {fetching.value === 'failed' && <ShedFailed onRetry={() => void refreshAges(notebook)} />}
        {shown && <ReportView report={shown.report} />}
        {!shown && fetching.value !== 'failed' && <p class="say">{emptyText()}</p>}
      </div>
    </>
  )
}

function whence(): string {
  if (fetching.value === 'yes') return t('ages.fetching')
  return answer.value ? t('ages.asof', { day: dayName(answer.value.asof, today.value) }) : ''
}

function emptyText(): string {
  if (fetching.value === 'yes') return t('ages.fetching')
  return answer.value ? t('ages.none') : t('ages.offline')
}

function ReportView({ report }: { readonly report: Report }) {
  const hundred = inHundred(report.level)
  const lead = leadingAge(report)
  return (
    <>
      <div class="reading">
        <Say text={agesSentence(report)} />
        {lead && <p class="small">{t('ages.rests', { n: lead.plant_seasons, hundred })}</p>}
      </div>
      {report.notes.map((note) => <p class="note warn" key={note.code + note.text}><Icon name="warn" /> {noteText(note)}</p>)}
      {report.ages.length > 0 && (
        <div class="columns ages">
          <div><StemsChart ages={report.ages} hundred={hundred} /></div>
          <div><StemsTable ages={report.ages} hundred={hundred} /></div>
          <div><GradeBars ages={report.ages} /></div>
          <div><GradesTable ages={report.ages} hundred={hundred} /></div>
        </div>
      )}
    </>
  )
}
