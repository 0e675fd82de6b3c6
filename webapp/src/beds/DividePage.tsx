// Dividing a plant: how many, when, where each is set, and what becomes of the plant itself. One operation,
// with its undo. Protected stock stops here.

import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { decisionOf } from '../crop/intents'
import { type Child, mayDivide, stockOf } from '../crop/lineage'
import type { Farm, Plant } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { Stepper } from '../ui/Stepper'
import { today } from '../ui/today'
import { wide } from '../ui/wide'
import { codesLeft } from './codes'
import { DayField } from './DayField'
import { DeedNote } from './DeedNote'
import { divisibleFrom, type DivideForm, fewest, lacking, most, newDivideForm, planDivision, seasonTold } from './divide_form'
import { FirstSeasonField } from './FirstSeasonField'
import { stockOfNew } from './ground'
import { PlacePicker } from './PlacePicker'
import type { PlantActionProps } from './PlantActionPage'
import { Stopped } from './Stopped'
import { useDeed } from './use_deed'

export function DividePage({ plant }: PlantActionProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [form, setForm] = useState(() => newDivideForm(farm, plant, today.peek()))
  const [children, setChildren] = useState<readonly Child[]>([])
  const doing = useDeed()
  const change = (part: Partial<DivideForm>) => setForm((before) => ({ ...before, ...part }))
  const record = () => doing.act((now) => {
    const planned = planDivision(notebook, now, plant.id, form)
    setChildren(planned.children)
    return planned
  })
  if (doing.done) return <Divided farm={farm} plant={plant} form={form} children={children} note={<DeedNote {...doing} />} />
  const may = plant.removed === '' ? mayDivide(farm, plant) : 'gone'
  if (may !== 'yes') return <Stopped plant={plant} why={may} />
  const lacks = lacking(farm, plant.id, form, divisibleFrom(farm, plant, form.becomes))
  const leaving = form.becomes === 'kept' ? [] : [plant.id]
  const divides = (
    <>
      <p class="small">{t('lineage.divide.selling')}</p>
      <DeedNote {...doing} />
      {codesLeft(notebook) < form.children && <p class="note warn">{t('lineage.codes.few', { n: form.children })}</p>}
      {lacks && <p class="small" role="status">{t(`lineage.lacking.${lacks}`)}</p>}
      <button type="button" class="btn main" disabled={lacks !== undefined || codesLeft(notebook) < form.children} onClick={() => void record()}>{t('lineage.divide.do', { n: form.children })}</button>
    </>
  )
  return (
    <div class="columns">
      <div>
        <div class="note"><p>{t('lineage.divide.care')}</p><a class="own-line" href={href('row', 'care')}>{t('care.title')}</a></div>
        <Told farm={farm} plant={plant} form={form} change={change} />
        {wide.value && divides}
      </div>
      <div>
        <PlacePicker title={t('lineage.divide.places')} picked={form.picked} wanted={form.children} leaving={leaving} onPick={(picked) => change({ picked })} />
        {form.becomes === 'moved' && <PlacePicker title={t('lineage.divide.goes', { code: plant.code })} picked={form.goes} wanted={1} onPick={(goes) => change({ goes })} />}
        {!wide.value && divides}
      </div>
    </div>
  )
}

interface ToldProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly form: DivideForm
  readonly change: (part: Partial<DivideForm>) => void
}

function Told({ farm, plant, form, change }: ToldProps) {
  const stock = stockOf(farm, plant)
  const its = stock && stockOfNew(farm, stock, 'division')
  const fewer = (children: number) => change({ children, picked: { ...form.picked, places: form.picked.places.slice(0, children) } })
  return (
    <section class="card">
      <Stepper label={t('lineage.divide.into')} value={form.children} step={1} least={fewest} most={most} onChange={fewer} />
      <DayField name={t('lineage.divide.day')} day={form.day} from={divisibleFrom(farm, plant, form.becomes)} onDay={(day) => change({ day, season: undefined })} />
      <FirstSeasonField calendar={farm.calendar} day={form.day} season={seasonTold(farm, form)} onSeason={(season) => change({ season })} />
      {its && <p>{t(its.isNew ? 'lineage.divide.stock.new' : 'lineage.divide.stock.has', { stock: its.stock.name, code: plant.code })}</p>}
      <fieldset class="field">
        <legend>{t('lineage.divide.parent', { code: plant.code })}</legend>
        <div class="choices">
          {(['taken_out', 'kept', 'moved'] as const).map((becomes) => (
            <button key={becomes} type="button" class="btn" aria-pressed={form.becomes === becomes} onClick={() => change({ becomes })}>{t(`lineage.divide.parent.${becomes}`)}</button>
          ))}
        </div>
      </fieldset>
    </section>
  )
}

interface DividedProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly form: DivideForm
  readonly children: readonly Child[]
  readonly note: ComponentChildren
}

function Divided({ farm, plant, form, children, note }: DividedProps) {
  return (
    <div class="reading divided">
      {note}
      <p>{t('lineage.divided.tags', { day: dayName(form.day, today.value) })}</p>
      <ul class="rows">
        {children.map(({ id, code, place }) => (
          <li key={id}>
            <a class="line plain" href={href('beds', 'plant', id)}><b>{code}</b><span class="small">{place.line > 0 ? t('place', { line: place.line, number: place.number }) : t('place.unknown')}</span></a>
          </li>
        ))}
      </ul>
      <p class="small">{t('lineage.divide.selling')}</p>
      {decisionOf(farm, plant.id, seasonOf(farm.calendar, form.day)) && <a class="btn main" href={href('row', 'divide')}>{t('division.walk.on')}</a>}
      <a class="btn" href={href('beds', 'tags', form.picked.bed, ...children.slice(0, 1).map(({ id }) => farm.plants.get(id)?.planting ?? ''))}>{t('tags.link')}</a>
      <a class="btn" href={href('beds', 'plant', plant.id)}>{t('lineage.back_to', { code: farm.plants.get(plant.id)?.code ?? plant.code })}</a>
    </div>
  )
}
