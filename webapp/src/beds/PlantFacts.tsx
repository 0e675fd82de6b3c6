// What a plant is: its stock, its place, and the season in the ground with the rule that gave it.

import { protectedBehind } from '../crop/lineage'
import type { Farm, Plant, Planting } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { seasonOf } from '../crop/season'
import { dayName, t } from '../messages/messages'
import { today } from '../ui/today'
import { colourName, whereStands } from '../ui/words'
import { seasonRule } from './season_rule'

export function PlantFacts({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const planting = farm.plantings.get(plant.planting)
  const stock = planting && farm.stocks.get(planting.stock)
  const bed = farm.beds.get(bedOf(farm, plant) ?? ('' as never))
  return (
    <div class="plant-facts">
      <p><b>{stock?.name ?? t('stock.unknown')}</b></p>
      <p class="small">{[bed?.name, whereStands(farm, plant), colourName(farm, plant)].filter(Boolean).join(' · ')}</p>
      {planting && <p class="small">{seasonSentence(farm, planting)}</p>}
      {protectedBehind(farm, stock) && <p class="small protected">{t('stock.protected')}</p>}
      {plant.removed !== '' && <p class="small">{t('plant.removed', { day: dayName(plant.removed, today.value) })}</p>}
    </div>
  )
}

/** "Season 2: planted 21 Sept 2025, after that year’s flush, so 2026 was its first." */
function seasonSentence(farm: Farm, planting: Planting): string {
  const { rule, first, age } = seasonRule(farm.calendar, planting, seasonOf(farm.calendar, today.value))
  return t(`plant.season.${rule}.${first}`, { age, day: dayName(planting.planted, today.value), first: String(planting.firstSeason) })
}
