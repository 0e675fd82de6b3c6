// One plant called out, and everything that a walk needs around it.

import type { Bed, Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { useWakeLock } from '../ui/wake'
import { wide } from '../ui/wide'
import { Handful } from './Handful'
import { useWalkKeys } from './keys'
import { LastAction } from './LastAction'
import { PlantCard } from './PlantCard'
import { PlantRows } from './PlantList'
import type { Mode, Session } from './session'
import { StemGrid } from './StemGrid'
import { Strip } from './Strip'
import { useAnswers } from './answers'
import { dayStateOf } from './walk'

interface WalkProps {
  readonly session: Session
  readonly bed: Bed
  readonly order: readonly Plant[]
  readonly plant: Plant
  readonly mode: Mode
}

export function Walk({ session, bed, order, plant, mode }: WalkProps) {
  const farm = useNotebook().farm.value
  const state = dayStateOf(farm, plant.id, today.value)
  useWakeLock()
  useAnswers(session)
  useWalkKeys(session, { plant, order, mode, seen: state.seen })
  return (
    <div class="walk">
      <PageHead title={bed.name}>
        <SyncChip />
        <a class="btn quiet care" href={href('row', 'care')} aria-label={t('care.title')}><Icon name="care" /></a>
      </PageHead>
      <div class="walk-main">
        <Strip farm={farm} order={order} at={plant.id} onJump={(id) => session.goTo(id)} />
        <PlantCard farm={farm} plant={plant} state={state} />
        {mode === 'grid'
          ? <StemGrid session={session} plant={plant} />
          : <Handful session={session} plant={plant.id} seen={state.stems} />}
        <LastAction session={session} />
        <Actions session={session} plant={plant} mode={mode} seen={state.seen} />
        <p class="small keys-hint">{t('row.keys')}</p>
      </div>
      {wide.value && (
        <aside class="walk-side" aria-label={t('row.list')}>
          <PlantRows session={session} order={order} at={plant.id} />
          <button type="button" class="btn tall" onClick={() => session.close()}>{t('row.other_bed')}</button>
        </aside>
      )}
    </div>
  )
}

interface ActionsProps {
  readonly session: Session
  readonly plant: Plant
  readonly mode: Mode
  readonly seen: boolean
}

function Actions({ session, plant, mode, seen }: ActionsProps) {
  const other: Mode = mode === 'grid' ? 'number' : 'grid'
  return (
    <div class="act">
      <button type="button" class="btn tall square" aria-label={t(`row.mode.${other}`)} onClick={() => session.setMode(other)}>
        <Icon name={other === 'grid' ? 'grid' : 'numbers'} />
      </button>
      {seen
        ? <button type="button" class="btn main" onClick={() => session.next()}>{t('row.next')}</button>
        : <button type="button" class="btn main" onClick={() => void session.nothing(plant.id)}>{t('row.nothing')}</button>}
    </div>
  )
}
