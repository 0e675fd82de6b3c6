// The walk as a list: jump to any plant, see what is left.

import type { Bed, Plant, PlantID } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { today } from '../ui/today'
import { placeName, swatchOf } from '../ui/words'
import type { Session } from './session'
import { type DayState, dayStateOf } from './walk'

interface PlantListProps {
  readonly session: Session
  readonly bed: Bed
  readonly at: PlantID | ''
}

export function PlantList({ session, bed, at }: PlantListProps) {
  return (
    <>
      <PageHead title={bed.name} back={href('row')} />
      <div class="page reading">
        <PlantRows session={session} order={session.order(bed.id)} at={at} />
        <button type="button" class="btn tall" onClick={() => { session.close(); go('row') }}>{t('row.other_bed')}</button>
      </div>
    </>
  )
}

interface PlantRowsProps {
  readonly session: Session
  readonly order: readonly Plant[]
  readonly at: PlantID | ''
}

export function PlantRows({ session, order, at }: PlantRowsProps) {
  const farm = useNotebook().farm.value
  const jump = (plant: PlantID) => {
    session.goTo(plant)
    go('row')
  }
  return (
    <ol class="rows">
      {order.map((plant) => {
        const state = dayStateOf(farm, plant.id, today.value)
        return (
          <li key={plant.id}>
            <button type="button" class="line" aria-current={plant.id === at ? 'step' : undefined} onClick={() => jump(plant.id)}>
              <Head swatch={swatchOf(farm, plant)} size={36} />
              <span><b>{plant.code}</b><span class="small block">{placeName(plant)}</span></span>
              <StateMark state={state} />
            </button>
          </li>
        )
      })}
    </ol>
  )
}

function StateMark({ state }: { readonly state: DayState }) {
  if (state.stems > 0) return <span class="n" aria-label={t('stems', { n: state.stems })}>{count(state.stems)}</span>
  return <span class="small">{state.seen ? <><Icon name="check" /> {t('row.list.nothing')}</> : t('row.list.waiting')}</span>
}
