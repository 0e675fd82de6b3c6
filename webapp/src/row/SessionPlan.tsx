// Before a colour session: which plants and how many, and whether there are reference plants.

import { useState } from 'preact/hooks'
import { referenceFacts } from '../crop/facts'
import type { Bed, Farm, Plant } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { fewest, suggestedReferences } from '../measuring/references'
import { count, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Choice } from '../ui/Choice'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { useRights } from '../ui/rights'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { colourName, failureText, placeName, swatchOf } from '../ui/words'
import { planned, referencesFor, toMeasure, usualPlan } from './colour_order'
import type { ColourSession, SessionState } from './colour_session'
import { stepText } from './session_words'
import type { Whom } from './walk'

/** Plants by which a tap changes the plan. */
const step = 5

interface SessionPlanProps {
  readonly bed: Bed
  readonly session: ColourSession
  /** Of today's session, where one was begun. */
  readonly state: SessionState | undefined
}

export function SessionPlan({ bed, session, state }: SessionPlanProps) {
  const farm = useNotebook().farm.value
  const [whom, setWhom] = useState<Whom>('counted')
  const [asked, setAsked] = useState<number | undefined>(undefined)
  const season = seasonOf(farm.calendar, today.value)
  const plants = toMeasure(farm, bed.id, season, today.value, whom)
  const all = plants.fresh.length + plants.again.length
  const counted = toMeasure(farm, bed.id, season, today.value, 'all')
  const some = counted.fresh.length + counted.again.length > all || whom === 'all'
  const n = Math.min(all, asked ?? usualPlan(plants))
  const references = referencesFor(farm, bed.id, today.value)
  const begin = () => {
    session.begin(bed.id, references.map(({ id }) => id), planned(plants, n))
    go('row', 'measure', bed.id)
  }
  const change = (by: number) => setAsked(Math.max(0, Math.min(all, n + by)))
  return (
    <>
      <PageHead title={t('session.title', { bed: bed.name })} back={href('row', 'walks', bed.id)}><SyncChip /></PageHead>
      <div class="page reading session-plan">
        {state && <a class="btn main" href={href('row', 'measure', bed.id)}>{t('session.go_on', { step: stepText(state) })}</a>}
        {all === 0 ? <p class="say">{t('session.plan.none')}</p> : (
          <>
            <p class="say">{t('session.begin')}</p>
            {some && <Choice name={t('session.whom')} value={whom} options={[['counted', t('session.whom.counted')], ['all', t('session.whom.all')]]} onChoose={setWhom} />}
            <div class="field">
              <span>{t('session.plan')}</span>
              <div class="plan-number">
                <button type="button" class="btn" disabled={n === 0} onClick={() => change(-step)}>{t('session.plan.fewer', { n: step })}</button>
                <output>{count(n)}</output>
                <button type="button" class="btn" disabled={n === all} onClick={() => change(step)}>{t('session.plan.more', { n: step })}</button>
              </div>
              <p class="small">{t('session.plan.of', { n: all, fresh: plants.fresh.length })}</p>
            </div>
            <References farm={farm} bed={bed} references={references} among={[...counted.fresh, ...counted.again]} />
            <div class="act two"><button type="button" class={state ? 'btn tall' : 'btn main'} onClick={begin}>{t(state ? 'session.anew' : 'session.start')}</button></div>
          </>
        )}
      </div>
    </>
  )
}

interface ReferencesProps {
  readonly farm: Farm
  readonly bed: Bed
  readonly references: readonly Plant[]
  readonly among: readonly Plant[]
}

function References({ farm, references, among }: ReferencesProps) {
  const may = useRights()
  const n = references.length
  const suggested = n < fewest ? suggestedReferences(farm, among, today.value) : []
  return (
    <section class="session-references">
      <h2>{t('session.references', { n })}</h2>
      {n > 0 && <p class="small">{references.map(({ code }) => code).join(', ')}</p>}
      {n < fewest && <p class="note warn">{n === 0 ? t('session.references.none') : t('session.references.few', { n })}{!may.manage && ` ${t('session.references.owner')}`}</p>}
      {may.manage && suggested.length > 0 && <Suggested farm={farm} plants={suggested} />}
    </section>
  )
}

function Suggested({ farm, plants }: { readonly farm: Farm; readonly plants: readonly Plant[] }) {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const choose = async (plant: Plant) => {
    try {
      await notebook.record(referenceFacts(plant.id, true))
      setProblem('')
      announce(t('plant.reference.on', { code: plant.code }))
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <>
      <p class="small">{t('session.references.suggest')}</p>
      <div class="classes">
        {plants.map((plant) => (
          <button key={plant.id} type="button" class="btn class" onClick={() => void choose(plant)}>
            <Head swatch={swatchOf(farm, plant)} size={44} />
            <span>{plant.code}<span class="small block">{[placeName(plant), colourName(farm, plant)].join(' · ')}</span></span>
          </button>
        ))}
      </div>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </>
  )
}
