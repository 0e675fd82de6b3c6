// The end of a walk: what it gave, and the plants that nobody touched, by name.

import type { Bed, Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { Say } from '../ui/Say'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { useAnswers } from './answers'
import { LastAction } from './LastAction'
import { PlantRows } from './PlantList'
import type { Session } from './session'
import { dayStateOf } from './walk'

interface WalkEndProps {
  readonly session: Session
  readonly bed: Bed
  readonly order: readonly Plant[]
}

export function WalkEnd({ session, bed, order }: WalkEndProps) {
  const farm = useNotebook().farm.value
  useAnswers(session)
  const states = order.map((plant) => ({ plant, state: dayStateOf(farm, plant.id, today.value) }))
  const untouched = states.filter(({ state }) => !state.seen).map(({ plant }) => plant)
  const stems = states.reduce((sum, { state }) => sum + state.stems, 0)
  const first = untouched[0]
  return (
    <>
      <PageHead title={bed.name}><SyncChip /></PageHead>
      <div class="page reading">
        <Say text={order.length === 0 ? t('row.end.none') : t('row.end', { n: stems, seen: order.length - untouched.length })} />
        {first && (
          <section>
            <p class="note warn">{t('row.end.untouched', { n: untouched.length })}</p>
            <PlantRows session={session} order={untouched} at="" />
          </section>
        )}
        <LastAction session={session} />
        <div class="act two">
          {first && <button type="button" class="btn tall" onClick={() => session.close()}>{t('row.other_bed')}</button>}
          {first
            ? <button type="button" class="btn main" onClick={() => session.goTo(first.id)}>{t('row.end.go', { code: first.code })}</button>
            : <button type="button" class="btn main" onClick={() => session.close()}>{t('row.other_bed')}</button>}
        </div>
      </div>
    </>
  )
}
