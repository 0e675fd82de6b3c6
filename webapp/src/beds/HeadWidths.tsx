// How wide a plant's heads were in its newest photos: evidence beside the grades.

import type { Farm, Plant } from '../crop/nouns'
import { readingsOfPlant } from '../measuring/plant_readings'
import { readingSpreadText } from '../measuring/words'
import { listed, t } from '../messages/messages'

const shown = 3

export function HeadWidths({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const widths = readingsOfPlant(farm, plant.id).flatMap((reading) => readingSpreadText(reading, farm.unit) ?? []).slice(0, shown)
  if (widths.length === 0) return null
  return <p class="small">{t('plant.colour.heads', { n: widths.length, widths: listed(widths) })}</p>
}
