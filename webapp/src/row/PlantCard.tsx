// The plant called out: its head, its code, its place; and whether it is cut clean or to order.

import type { Bed, Farm, Plant } from '../crop/nouns'
import { ageIn, seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { today } from '../ui/today'
import { colourName, placeName, swatchOf } from '../ui/words'
import type { DayState } from './day'
import type { Session } from './session'

interface PlantCardProps {
  readonly session: Session
  readonly farm: Farm
  readonly bed: Bed
  readonly plant: Plant
  readonly state: DayState
  /** It is not counted, though others of the bed are. */
  readonly uncounted: boolean
}

export function PlantCard({ session, farm, bed, plant, state, uncounted }: PlantCardProps) {
  const planting = farm.plantings.get(plant.planting)
  const facts = [placeName(plant)]
  if (planting) facts.push(t('season.age', { age: ageIn(planting, seasonOf(farm.calendar, today.value)) }))
  facts.push(colourName(farm, plant))
  if (uncounted) facts.push(t('list.uncounted'))
  return (
    <section class="plant-card" aria-label={t('row.plant', { code: plant.code })}>
      <Head swatch={swatchOf(farm, plant)} size={52} />
      <div>
        <p class="code">{plant.code}</p>
        <p class="small">{state.seen && state.stems === 0 ? <b>{t('row.today.nothing')}</b> : facts.join(' · ')}</p>
      </div>
      <HowItIsCut session={session} bed={bed} />
    </section>
  )
}

/** Clean or to order, for every plant of the bed counted from now on (see saying.ts). */
function HowItIsCut({ session, bed }: { readonly session: Session; readonly bed: Bed }) {
  const { toOrder } = session.ways.of(bed.id)
  return (
    <button
      type="button" class="btn how-cut" aria-label={toOrder ? t('cut.is.order') : t('cut.is.clean')}
      onClick={() => session.setWay(bed.id, { toOrder: !toOrder })}
    >
      <Icon name={toOrder ? 'cut_order' : 'cut_clean'} />
      <span>{toOrder ? t('cut.order') : t('cut.clean')}</span>
    </button>
  )
}
