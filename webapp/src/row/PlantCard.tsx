// The plant called out: its head, its code, its place, and what it gave today.

import type { Farm, Plant } from '../crop/nouns'
import { ageIn, seasonOf } from '../crop/season'
import { count, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { today } from '../ui/today'
import { colourName, placeName, swatchOf } from '../ui/words'
import type { DayState } from './walk'

interface PlantCardProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly state: DayState
}

export function PlantCard({ farm, plant, state }: PlantCardProps) {
  const planting = farm.plantings.get(plant.planting)
  const facts = [placeName(plant)]
  if (planting) facts.push(t('season.age', { age: ageIn(planting, seasonOf(farm.calendar, today.value)) }))
  facts.push(colourName(farm, plant))
  return (
    <section class="plant-card" aria-label={t('row.plant', { code: plant.code })}>
      <Head swatch={swatchOf(farm, plant)} size={64} />
      <div>
        <p class="code">{plant.code}</p>
        <p class="small">{facts.join(' · ')}</p>
      </div>
      <Today state={state} />
    </section>
  )
}

/** What the plant gave today; once it has a number, that a further one adds to it. */
function Today({ state }: { readonly state: DayState }) {
  if (state.stems > 0) return <p class="today"><b>{count(state.stems)}</b> {t('row.today.more')}</p>
  return state.seen ? <p class="today">{t('row.today.nothing')}</p> : null
}
