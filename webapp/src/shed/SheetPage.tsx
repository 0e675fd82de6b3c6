// The walk sheet: printed for a pencil, and typed in again, for one bed and day.

import { signal } from '@preact/signals'
import type { BedID, Day } from '../crop/nouns'
import { type DayProblem, dayProblem } from '../crop/visit_day'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { ReentryWarning } from '../ui/ReentryWarning'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { Choice } from '../ui/Choice'
import { type Listed, plantsOn } from './sheet'
import './sheet.css'
import { SheetPaper } from './SheetPaper'
import { SheetTyping } from './SheetTyping'

/** How many days a sheet may have room for. */
const columnChoices = [1, 2, 3, 4, 5] as const

/** What was chosen last, so that a look at another page loses nothing; no day is today. */
const chosen = signal<{ readonly bed: BedID | ''; readonly day?: string; readonly listed: Listed; readonly columns: number }>({
  bed: '', listed: 'counted', columns: 1,
})

export function SheetPage() {
  const farm = useNotebook().farm.value
  const may = useRights()
  const { bed: id, listed, columns } = chosen.value
  const day = chosen.value.day ?? today.value
  const bed = id === '' ? undefined : farm.beds.get(id)
  const problem = dayProblem(farm, id, day, today.value)
  // A sheet may be printed for a day to come; nothing can be typed for it yet.
  const prints = bed !== undefined && (problem === undefined || problem === 'future')
  const plants = prints ? plantsOn(farm, bed.id, day as Day, listed) : []
  return (
    <div class="sheet-page">
      <PageHead title={t('sheet.title')} back={href('shed')} />
      <div class="page">
        <div class="columns sheet">
          <div>
            <WhichSheet day={day} problem={problem} />
            {!bed && <p class="small">{t('sheet.no_bed')}</p>}
            {prints && plants.length === 0 && <p>{t(listed === 'counted' ? 'sheet.none_counted' : 'sheet.none')}</p>}
            {plants.length > 0 && <PrintCard columns={columns} />}
            {plants.length > 0 && !may.record && <p class="note">{t('sheet.looks_on')}</p>}
          </div>
          {plants.length > 0 && may.record && problem === undefined && <SheetTyping plants={plants} day={day as Day} />}
        </div>
      </div>
      {bed && plants.length > 0 && <SheetPaper bed={bed} plants={plants} day={day as Day} columns={columns} />}
    </div>
  )
}

function choose(part: Partial<typeof chosen.value>): void {
  chosen.value = { ...chosen.value, ...part }
}

interface WhichSheetProps {
  readonly day: string
  readonly problem: DayProblem | undefined
}

/** Day, bed and plants of the sheet, and what is to be said of them. */
function WhichSheet({ day, problem }: WhichSheetProps) {
  const { bed, listed } = chosen.value
  const stops = problem !== undefined && problem !== 'future'
  return (
    <>
      <div class="bench-choice">
        <label class="field">
          <span>{t('sheet.day')}</span>
          <input type="date" value={day} onInput={(event) => choose({ day: event.currentTarget.value })} />
        </label>
        <BedChoice chosen={bed} onChoose={(one) => choose({ bed: one })} />
      </div>
      {bed !== '' && <ReentryWarning bed={bed} />}
      {problem && <p class={stops ? 'note stop' : 'note'} role={stops ? 'alert' : 'status'}>{t(`sheet.day.${problem}`)}</p>}
      <Choice
        name={t('sheet.listed')} value={listed} onChoose={(one) => choose({ listed: one })}
        options={[['counted', t('sheet.listed.counted')], ['all', t('sheet.listed.all')]]}
      />
    </>
  )
}

function PrintCard({ columns }: { readonly columns: number }) {
  return (
    <div class="card sheet-print">
      <Choice
        name={t('sheet.columns')} value={String(columns)} onChoose={(n) => choose({ columns: Number(n) })}
        options={columnChoices.map((n) => [String(n), String(n)] as const)}
      />
      <button type="button" class="btn" onClick={() => print()}>{t('sheet.print')}</button>
      <p class="small">{t('sheet.print.note')}</p>
    </div>
  )
}

interface BedChoiceProps {
  readonly chosen: BedID | ''
  readonly onChoose: (bed: BedID | '') => void
}

function BedChoice({ chosen: id, onChoose }: BedChoiceProps) {
  const farm = useNotebook().farm.value
  const beds = [...farm.beds.values()].sort((a, b) => a.name.localeCompare(b.name, undefined, { numeric: true }))
  return (
    <label class="field">
      <span>{t('bench.bed')}</span>
      <select value={id} onChange={(event) => onChoose(event.currentTarget.value as BedID | '')}>
        <option value="">{t('bench.bed.choose')}</option>
        {beds.map((bed) => <option key={bed.id} value={bed.id}>{bed.name}</option>)}
      </select>
    </label>
  )
}
