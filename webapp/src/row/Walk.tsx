// One plant called out, and everything that a walk needs around it.

import type { Bed, Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { ReentryWarning } from '../ui/ReentryWarning'
import { RepeatNotice } from '../ui/RepeatNotice'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { today } from '../ui/today'
import { useWakeLock } from '../ui/wake'
import { wide } from '../ui/wide'
import { useAnswers } from './answers'
import { CutLine } from './CutLine'
import { viewOf } from './day'
import { Handful } from './Handful'
import { useWalkKeys } from './keys'
import { LastAction } from './LastAction'
import { LockButton } from './Lock'
import { PlantCard } from './PlantCard'
import { WholeWalk } from './PlantList'
import { PlantTools } from './PlantTools'
import type { Session } from './session'
import { StemGrid, Steps } from './StemGrid'
import type { Mode } from './steps'
import { Strip } from './Strip'

interface WalkProps {
  readonly session: Session
  readonly bed: Bed
  readonly order: readonly Plant[]
  readonly plant: Plant
  readonly mode: Mode
}

export function Walk({ session, bed, order, plant, mode }: WalkProps) {
  const farm = useNotebook().farm.value
  const state = viewOf(farm, today.value).state(plant.id)
  // An uncounted plant's silence means nothing, so it is never told to bear nothing: one walks on.
  const counted = session.isCounted(plant)
  const done = state.seen || !counted
  useWakeLock()
  useAnswers(session)
  useWalkKeys(session, { plant, order, mode, done })
  return (
    <div class="walk">
      <PageHead title={bed.name}>
        <SyncChip />
        <a class="btn quiet care" href={href('row', 'care')} aria-label={t('care.title')}><Icon name="care" /></a>
        <LockButton session={session} />
      </PageHead>
      <div class="walk-main">
        <ReentryWarning bed={bed.id} />
        <Strip session={session} farm={farm} bed={bed.id} order={order} at={plant.id} />
        <PlantCard session={session} farm={farm} bed={bed} plant={plant} state={state} uncounted={!counted && order.some((one) => session.isCounted(one))} />
        <CutLine key={bed.id} bed={bed} plant={plant} />
        {mode === 'grid'
          ? <StemGrid session={session} plant={plant} />
          : <Handful session={session} plant={plant.id} seen={state.stems} />}
        <LastAction session={session} />
        <RepeatNotice key={plant.id} plant={plant.id} day={today.value} />
        <Actions session={session} plant={plant} mode={mode} done={done} />
        <p class="small keys-hint">{t('row.keys')} <a href={href('shed', 'keys')}>{t('keys.title')}</a></p>
      </div>
      {wide.value && (
        <aside class="walk-side walk-list" aria-label={t('row.list')}>
          <WholeWalk session={session} bed={bed} at={plant.id} />
        </aside>
      )}
    </div>
  )
}

interface ActionsProps {
  readonly session: Session
  readonly plant: Plant
  readonly mode: Mode
  readonly done: boolean
}

function Actions({ session, plant, mode, done }: ActionsProps) {
  const other: Mode = mode === 'grid' ? 'number' : 'grid'
  return (
    <div class={`act ${mode}`}>
      <button type="button" class="btn tall square" aria-label={t(`row.mode.${other}`)} onClick={() => session.setMode(other)}>
        <Icon name={other === 'grid' ? 'grid' : 'numbers'} />
      </button>
      {mode === 'grid' ? <Steps session={session} /> : <PlantTools plant={plant} />}
      {done
        ? <button type="button" class="btn main" onClick={() => session.next()}>{t('row.next')}</button>
        : <button type="button" class="btn main" onClick={() => void session.nothing(plant.id)}>{t('row.nothing')}</button>}
    </div>
  )
}
