// Planting a tray: a planting of one stock fills places of a bed in one step. Stock and bed may be made on
// the way, so that a farm's first bed is one screen.

import { useMemo, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { BedID, StockID } from '../crop/nouns'
import { mostPlants } from '../crop/planting_out'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { FromSpreadsheets } from '../ui/EmptyFarm'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { freeName } from './bed_form'
import { NotPlanted, plantTray } from './plant_tray'
import { freshTray, readTray, type TrayForm, type TrayPlan } from './tray'
import { TrayBed } from './TrayBed'
import { TrayNumbers } from './TrayNumbers'
import { TrayPreview } from './TrayPreview'
import { TrayStock } from './TrayStock'
import { TrayWhen } from './TrayWhen'
import './tray.css'
import { type CodesAtHand, useCodes } from './use_codes'

export function TrayPage({ asked }: { readonly asked: BedID | undefined }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [form, setForm] = useState(() => freshTray(
    farm, asked, today.peek(), [newUUID() as StockID, newUUID() as BedID], freeName(farm, (n) => t('bed_form.named.n', { n }))))
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState('')
  const plan = useMemo(() => readTray(form, farm, today.value), [form, farm, today.value])
  const codes = useCodes(plan.places.length)
  const change = (part: Partial<TrayForm>) => {
    setProblem('')
    setForm((before) => ({ ...before, ...part }))
  }
  const save = async (event: Event) => {
    event.preventDefault()
    if (busy || missingText(plan, codes) !== '') return
    setBusy(true)
    try {
      await plantTray(notebook, form, plan, today.peek(), newUUID)
    } catch (reason) {
      return setProblem(notPlantedText(reason))
    } finally {
      setBusy(false)
    }
    announce(t('planted.said', { n: plan.places.length, bed: plan.bed.name }))
    go('beds', 'planted')
  }
  const first = farm.beds.size === 0
  const fields = { form, plan, onChange: change }
  return (
    <>
      <PageHead title={t(first ? 'tray.title.first' : 'tray.title')} back={asked === undefined ? href('beds') : href('beds', 'bed', asked)} />
      <form class="page tray" onSubmit={(event) => void save(event)}>
        <div class="columns">
          <div><TrayStock {...fields} /><TrayBed {...fields} /><TrayNumbers {...fields} /></div>
          <div><TrayWhen {...fields} /><TrayPreview plan={plan} /></div>
        </div>
        {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
        <PlantButton plan={plan} codes={codes} busy={busy} />
        {first && <details><summary>{t('empty.sheets')}</summary><FromSpreadsheets /></details>}
      </form>
    </>
  )
}

function notPlantedText(reason: unknown): string {
  if (!(reason instanceof NotPlanted)) return failureText(reason)
  return reason.reason === 'changed' ? t('tray.changed') : t('tray.codes.few', { n: reason.left })
}

interface PlantButtonProps {
  readonly plan: TrayPlan
  readonly codes: CodesAtHand
  readonly busy: boolean
}

function PlantButton({ plan, codes, busy }: PlantButtonProps) {
  const missing = missingText(plan, codes)
  return (
    <div class="tray-do">
      {missing !== '' && <p class="small" role="status">{missing}</p>}
      <button type="submit" class="btn main" disabled={missing !== '' || busy}>
        {busy ? t('tray.busy') : plan.places.length === 0 ? t('tray.plant.none') : t('tray.plant', { n: plan.places.length })}
      </button>
    </div>
  )
}

/** Why it cannot be planted yet, or ''. */
function missingText({ problems, gaps, places }: TrayPlan, codes: CodesAtHand): string {
  const [first] = problems
  if (first === 'most') return t('tray.problem.most', { most: mostPlants })
  if (first === 'gaps_few') return t('tray.problem.gaps_few', { n: gaps })
  if (first !== undefined) return t(`tray.problem.${first}`)
  if (codes.left >= places.length) return ''
  return codes.asking ? t('tray.codes.asking') : t('tray.codes.few', { n: codes.left })
}
