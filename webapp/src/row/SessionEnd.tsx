// The end of a colour session: how many were photographed and how surely, and who is left.

import type { Bed, PlantID, Reading } from '../crop/nouns'
import { LastKept } from '../measuring/LastKept'
import { newestReading } from '../measuring/plant_readings'
import { type Sureness, surenessOf, uncertaintyOf } from '../measuring/uncertainty'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { isDone } from './colour_order'
import type { ColourSession, SessionState } from './colour_session'

interface SessionEndProps {
  readonly bed: Bed
  readonly session: ColourSession
  readonly state: SessionState
}

export function SessionEnd({ bed, session, state }: SessionEndProps) {
  const farm = useNotebook().farm.value
  const done = (id: PlantID) => isDone(farm, id, today.value)
  const measured = state.plants.filter(done)
  const left = state.plants.flatMap((id) => (done(id) ? [] : farm.plants.get(id) ?? []))
  const readings = measured.flatMap((id) => newestReading(farm, id) ?? [])
  const first = left[0]
  return (
    <>
      <PageHead title={t('session.title', { bed: bed.name })} back={href('row', 'walks', bed.id)}><SyncChip /></PageHead>
      <div class="page reading session-end">
        <Say text={t('session.end', { n: measured.length, total: state.plants.length })} />
        {readings.length > 0 && <p>{t('session.end.sure', { n: readings.length, ...surenesses(readings) })}</p>}
        <References references={state.references} done={done} />
        {left.length > 0 && (
          <section>
            <p class="note warn">{t('session.end.left', { n: left.length })}</p>
            <ul class="plant-links">
              {left.map((plant) => <li key={plant.id}><button type="button" class="btn" onClick={() => session.goTo(bed.id, plant.id)}>{plant.code}</button></li>)}
            </ul>
          </section>
        )}
        <LastKept />
        <div class={first ? 'act half' : 'act two'}>
          {first && <button type="button" class="btn main" onClick={() => session.goTo(bed.id, first.id)}>{t('session.end.go', { code: first.code })}</button>}
          <a class="btn tall" href={href('row', 'measure', bed.id, 'plan')}>{t('session.end.more')}</a>
        </div>
      </div>
    </>
  )
}

function References({ references, done }: { readonly references: readonly PlantID[]; readonly done: (id: PlantID) => boolean }) {
  const n = references.filter(done).length
  return n === 0
    ? <p class="note warn">{t('session.end.no_references')}</p>
    : <p class="small">{t('session.end.references', { n: references.length, done: n })}</p>
}

function surenesses(readings: readonly Reading[]): Record<Sureness, number> {
  const counts: Record<Sureness, number> = { good: 0, fair: 0, poor: 0 }
  for (const { lab, se } of readings) counts[surenessOf(uncertaintyOf(lab, se))]++
  return counts
}
