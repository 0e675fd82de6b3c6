// One colour class: its name, its measured colour from a plant, a photo or by hand, and how far a plant may lie from it.

import { useMemo, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { hexOf } from '../colour/shown'
import { usualLimit } from '../crop/colour_class'
import type { Colour, ColourID, Farm, PlantID, ReadingID } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { go, href } from '../ui/route'
import { Stepper } from '../ui/Stepper'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { changeBy, classFacts, type ClassForm, classForm, lackingInClass, limits, modelsFor, overlapping, photosFor } from './class_form'
import { whence } from './ClassesPage'
import './colour.css'
import { beyondScreen, classSwatch, labText, tenth } from './colour_words'
import { ColourField } from './ColourField'
import type { SpeciesColour } from './colours'
import { coloursBySeason } from './plant_colours'
import { useColours } from './use_colours'

export function ClassPage({ before }: { readonly before: Colour | undefined }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const { species } = useColours()
  const [id] = useState(() => before?.id ?? (newUUID() as ColourID))
  const [form, setForm] = useState(() => classForm(before))
  const [problem, setProblem] = useState('')
  const lacks = lackingInClass(farm, form, before)
  const change = (part: Partial<ClassForm>) => setForm((all) => ({ ...all, ...part }))
  const keep = async (told: ClassForm, said: string) => {
    try {
      await notebook.record(classFacts(id, told, before))
    } catch (reason) {
      return setProblem(failureText(reason))
    }
    announce(said)
    go('beds', 'classes')
  }
  const save = (event: Event) => {
    event.preventDefault()
    if (lacks === undefined) void keep(form, t('classes.saved', { name: form.name.trim() }))
  }
  return (
    <>
      <PageHead title={before ? before.name : t('classes.new')} back={href('beds', 'classes')} />
      <form class="page class-page" onSubmit={save}>
        {!may.manage && <p class="small">{t('classes.owner')}</p>}
        <div class="columns">
          <div>
            <label class="field"><span>{t('classes.name')}</span><input type="text" value={form.name} maxLength={40} disabled={!may.manage} onInput={(event) => change({ name: event.currentTarget.value })} /></label>
            <Measured farm={farm} form={form} before={before} />
            {may.manage && <Source farm={farm} species={species} of={before?.id} form={form} change={change} />}
          </div>
          <div>
            {may.manage && <Stepper label={t('classes.limit')} value={form.limit} step={limits.step} least={limits.least} most={limits.most} onChange={(limit) => change({ limit })} />}
            <p class="small">{t('classes.limit.why', { usual: usualLimit })}</p>
            <Effect farm={farm} species={species} id={id} form={form} />
            {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
            {lacks && may.manage && <p class="small" role="status">{t(`classes.lacking.${lacks}`)}</p>}
            {may.manage && <button type="submit" class="btn main" disabled={lacks !== undefined}>{t('classes.save')}</button>}
            {may.manage && before?.lab && (
              <button type="button" class="btn" onClick={() => void keep({ ...form, name: before.name, lab: undefined, limit: usualLimit }, t('classes.taken_back', { name: before.name }))}>{t('classes.take_back')}</button>
            )}
          </div>
        </div>
      </form>
    </>
  )
}

function Measured({ farm, form, before }: { readonly farm: Farm; readonly form: ClassForm; readonly before: Colour | undefined }) {
  const { lab } = form
  return (
    <div class="card class-colour">
      <Head swatch={lab ? hexOf(lab) : classSwatch(before)} size={72} />
      <p>
        {lab ? <><b>{labText(lab)}</b><span class="small block">{whence(farm, { labFrom: form.from })}</span></> : t('classes.by_eye')}
        {lab && beyondScreen(lab) && <span class="small block">{t('colours.beyond.one')}</span>}
      </p>
    </div>
  )
}

interface SourceProps {
  readonly farm: Farm
  readonly species: readonly SpeciesColour[]
  readonly of: ColourID | undefined
  readonly form: ClassForm
  readonly change: (part: Partial<ClassForm>) => void
}

const sources = ['plant', 'reading', 'hand'] as const

function Source(props: SourceProps) {
  const { form, change } = props
  const [by, setBy] = useState<(typeof sources)[number] | undefined>(undefined)
  return (
    <fieldset class="field">
      <legend>{t('classes.source')}</legend>
      <div class="choices">
        {sources.map((one) => <button key={one} type="button" class="btn" aria-pressed={by === one} onClick={() => setBy(one)}>{t(`classes.source.${one}`)}</button>)}
      </div>
      {by === 'plant' && <FromPlant {...props} />}
      {by === 'reading' && <FromPhoto {...props} />}
      {by === 'hand' && <><p class="small">{t('classes.hand.why')}</p><ColourField start={form.lab} onColour={(lab) => change({ lab, from: 'hand' })} /></>}
    </fieldset>
  )
}

function FromPlant({ farm, species, of, form, change }: SourceProps) {
  const models = useMemo(() => modelsFor(farm, new Map(species.flatMap(({ report }) => [...coloursBySeason(report)])), of), [farm.groundVersion, farm.readingsVersion, species, of])
  if (models.length === 0) return <p class="small">{t('classes.source.no_plant')}</p>
  return (
    <label class="field">
      <span>{t('classes.source.which_plant')}</span>
      <select
        value={form.from.startsWith('plant/') ? form.from.slice('plant/'.length) : ''}
        onChange={(event) => {
          const model = models.find(({ plant }) => plant.id === (event.currentTarget.value as PlantID))
          if (model) change({ lab: model.colour.lab, from: `plant/${model.plant.id}` })
        }}
      >
        <option value="">{t('classes.source.choose')}</option>
        {models.map(({ plant, season }) => <option key={plant.id} value={plant.id}>{t('classes.source.plant_of', { code: plant.code, colour: farm.colours.get(plant.colour as ColourID)?.name ?? t('colour.unknown'), season: String(season) })}</option>)}
      </select>
    </label>
  )
}

function FromPhoto({ farm, of, form, change }: SourceProps) {
  const photos = useMemo(() => photosFor(farm, of), [farm.readingsVersion, farm.groundVersion, of])
  if (photos.length === 0) return <p class="small">{t('classes.source.no_photo')}</p>
  return (
    <label class="field">
      <span>{t('classes.source.which_photo')}</span>
      <select
        value={form.from.startsWith('reading/') ? form.from.slice('reading/'.length) : ''}
        onChange={(event) => {
          const reading = farm.readings.get(event.currentTarget.value as ReadingID)
          if (reading) change({ lab: reading.lab, from: `reading/${reading.id}` })
        }}
      >
        <option value="">{t('classes.source.choose')}</option>
        {photos.map(({ id, date, plant, lab }) => <option key={id} value={id}>{t('classes.source.photo_of', { day: dayName(date, today.value), code: farm.plants.get(plant)?.code ?? '', lab: labText(lab) })}</option>)}
      </select>
    </label>
  )
}

/** What keeping it so would change. */
function Effect({ farm, species, id, form }: Pick<SourceProps, 'farm' | 'species' | 'form'> & { readonly id: ColourID }) {
  const measured = useMemo(() => species.flatMap(({ report }) => [...coloursBySeason(report).values()].flatMap((of) => [...of].sort(([a], [b]) => b - a).slice(0, 1).map(([, colour]) => colour))), [species])
  const effect = useMemo(() => changeBy(farm, id, form, measured), [farm.groundVersion, id, form, measured])
  const near = overlapping(farm, id, form)
  if (!form.lab) return <p class="small">{t('classes.effect.eye')}</p>
  return (
    <>
      <p>{t('classes.effect', { n: effect.then, measured: effect.measured, now: effect.now })}{effect.between > 0 && ` ${t('classes.effect.between', { n: effect.between })}`}</p>
      {near.map(({ colour, away }) => <p key={colour.id} class="note warn">{t('classes.overlap', { name: colour.name, n: tenth(away) })}</p>)}
    </>
  )
}
