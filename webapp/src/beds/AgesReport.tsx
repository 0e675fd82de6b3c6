// One crop's report: the sentence, stems by age and what they rest on; then, folded away, everything else.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { Say } from '../ui/Say'
import { WhatIs } from '../ui/WhatIs'
import { wide } from '../ui/wide'
import { shareOf } from './ages_per'
import type { Note, Report } from './ages_report'
import { agesSentence, inHundred, leadingAge, noteText } from './ages_sentence'
import { agesSettings } from './ages_settings'
import { gradersFor } from './AgesGraders'
import { AgesRests } from './AgesRests'
import { AgesSection } from './AgesSection'
import { AgesSections } from './AgesSections'
import { StemsTable } from './AgesTables'
import { PerChoice, PerWhy } from './PerChoice'
import { SaveNumbers } from './SaveNumbers'
import { StemsChart } from './StemsChart'

/** Notes that bear on every number of the page. */
const weighty: readonly string[] = ['nothing_recorded', 'assumed_counted', 'age_is_season', 'one_season']
/** Said where people's grading is shown, and with the other notes to who may not see that. */
const ofGraders = 'graders_apart'

interface AgesReportProps {
  readonly crop: string
  readonly report: Report
}

export function AgesReport({ crop, report }: AgesReportProps) {
  const notebook = useNotebook()
  const { unit } = notebook.farm.value
  const graded = gradersFor(notebook.member.value, report.spread?.graders ?? []).length > 0
  const lead = leadingAge(report)
  const hundred = inHundred(report.level)
  return (
    <>
      <div class="reading">
        <Say text={agesSentence(report, unit)} />
        {lead && <WhatIs of="range"><p class="small">{t('ages.rests', { n: lead.plant_seasons, hundred })}</p></WhatIs>}
      </div>
      {report.notes.filter((note) => weighty.includes(note.code)).map((note) => <Warning key={note.code} note={note} />)}
      {report.ages.length > 0 && <StemsPart report={report} hundred={hundred} />}
      <div class="ages-sections">
        <AgesSections report={report} lead={lead} apart={report.notes.filter((note) => note.code === ofGraders)} />
        <OtherNotes notes={report.notes.filter((note) => !weighty.includes(note.code) && !(graded && note.code === ofGraders))} />
      </div>
      {report.ages.length > 0 && <SaveNumbers crop={crop} report={report} />}
    </>
  )
}

function Warning({ note }: { readonly note: Note }) {
  return <p class="note warn"><Icon name="warn" /> {noteText(note)}</p>
}

function StemsPart({ report, hundred }: { readonly report: Report; readonly hundred: number }) {
  const { per } = agesSettings.value
  const shares = report.ages.map((age) => shareOf(age, report.survival, per))
  const table = <StemsTable ages={report.ages} shares={shares} per={per} hundred={hundred} />
  return (
    <div class="columns">
      <div>
        <h2>{t(`ages.stems.${per}`)}</h2>
        <PerChoice />
        <StemsChart ages={report.ages} shares={shares} hundred={hundred} />
        <PerWhy told={shares.every((share) => share.factor !== undefined)} />
      </div>
      <div>
        {wide.value ? table : <AgesSection name="numbers" title={t('ages.section.numbers')}>{table}</AgesSection>}
        <AgesRests ages={report.ages} />
      </div>
    </div>
  )
}

function OtherNotes({ notes }: { readonly notes: readonly Note[] }) {
  if (notes.length === 0) return null
  return (
    <AgesSection name="notes" title={t('ages.section.notes')}>
      {notes.map((note) => <p class="small" key={note.code + note.text}>{noteText(note)}</p>)}
    </AgesSection>
  )
}
