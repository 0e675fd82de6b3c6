// The plant that a rated walk calls out: its head, its code, its place, and what it was before.

import type { ComponentChildren } from 'preact'
import type { Farm, Plant } from '../crop/nouns'
import { ageIn, seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { today } from '../ui/today'
import { placeName, swatchOf } from '../ui/words'

interface RatedCardProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly told: string
  readonly children?: ComponentChildren
}

export function RatedCard({ farm, plant, told, children }: RatedCardProps) {
  const planting = farm.plantings.get(plant.planting)
  const facts = [placeName(plant), planting && t('season.age', { age: ageIn(planting, seasonOf(farm.calendar, today.value)) }), told]
  return (
    <section class="plant-card" aria-label={t('row.plant', { code: plant.code })}>
      <Head swatch={swatchOf(farm, plant)} size={64} />
      <div>
        <p class="code">{plant.code}</p>
        <p class="small">{facts.filter(Boolean).join(' · ')}</p>
        {children}
      </div>
    </section>
  )
}
