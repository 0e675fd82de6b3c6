// A new bed, or one that is changed or taken away.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { bedEdits, holdsBed, lastLineUsed } from '../crop/edits'
import { bedFacts } from '../crop/facts'
import type { Bed, BedID } from '../crop/nouns'
import { takenPlaces } from '../crop/planting_out'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { type BedForm, formOf, freeName, isNamed, readBedForm } from './bed_form'
import { BedDrawing } from './BedDrawing'
import { BedFields, bedProblemText } from './BedFields'
import { takeBedAway } from './lately'
import { nothingKnown, placesOfKeys } from './tray'
import './tray.css'

/** before: the bed that is changed; undefined where a new one is made. */
export function BedChangePage({ before }: { readonly before: Bed | undefined }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  // What differs from how it was opened is said, and not what another device has changed meanwhile.
  const [start] = useState<Bed>(() => before ?? { ...nothingKnown, lines: 4, id: newUUID() as BedID, name: freeName(farm, (n) => t('bed_form.named.n', { n })) })
  const [form, setForm] = useState<BedForm>(() => formOf(start, farm.unit))
  const [problem, setProblem] = useState('')
  const { bed, problems } = readBedForm(form, start, farm)
  const [lacking] = problems
  const save = async (event: Event) => {
    event.preventDefault()
    if (lacking !== undefined) return
    try {
      await notebook.record(before ? bedEdits(start, bed) : bedFacts(bed))
    } catch (reason) {
      return setProblem(failureText(reason))
    }
    announce(t('bed_form.saved', { name: bed.name }))
    go('beds', 'bed', bed.id)
  }
  return (
    <>
      <PageHead title={before ? t('bed_form.change') : t('bed_form.new')} back={before ? href('beds', 'bed', before.id) : href('beds')} />
      <form class="page tray" onSubmit={(event) => void save(event)}>
        <div class="columns">
          <div><BedFields form={form} unit={farm.unit} onChange={(change) => setForm((all) => ({ ...all, ...change }))} /></div>
          <div><section class="card"><BedDrawing bed={bed} standing={placesOfKeys(takenPlaces(farm, bed.id), bed.id)} filled={[]} unit={farm.unit} /></section></div>
        </div>
        {isNamed(farm, bed) && <p class="note warn">{t('bed_form.named')}</p>}
        {lacking !== undefined && <p class="note stop" role="alert">{bedProblemText(lacking, lastLineUsed(farm, bed.id))}</p>}
        {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
        <button type="submit" class="btn main" disabled={lacking !== undefined}>{t('bed_form.save')}</button>
        {before && <TakeAway bed={before} onProblem={setProblem} />}
      </form>
    </>
  )
}

function TakeAway({ bed, onProblem }: { readonly bed: Bed; readonly onProblem: (text: string) => void }) {
  const notebook = useNotebook()
  const holds = holdsBed(notebook.farm.value, bed.id)
  if (holds !== undefined) return <p class="small">{t(`bed_form.holds.${holds}`)}</p>
  const takeAway = async () => {
    try {
      await takeBedAway(notebook, bed, today.peek())
    } catch (reason) {
      return onProblem(failureText(reason))
    }
    announce(t('bed_form.gone', { name: bed.name }))
    go('beds')
  }
  return <button type="button" class="btn" onClick={() => void takeAway()}>{t('bed_form.take_away')}</button>
}
