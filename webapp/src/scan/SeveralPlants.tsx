// Plants that bear the same code: which one is meant is asked, never guessed.

import { bedOf } from '../crop/places'
import type { Plant } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { placeName, swatchOf } from '../ui/words'

interface SeveralPlantsProps {
  readonly text: string
  readonly plants: readonly Plant[]
  readonly onChoose: (plant: Plant) => void
}

export function SeveralPlants({ text, plants, onChoose }: SeveralPlantsProps) {
  const farm = useNotebook().farm.value
  return (
    <section class="card" aria-label={t('scan.several', { n: plants.length, code: text })}>
      <p role="alert">{t('scan.several', { n: plants.length, code: text })}</p>
      <ul class="rows">
        {plants.map((plant) => (
          <li key={plant.id}>
            <button type="button" class="line" onClick={() => onChoose(plant)}>
              <Head swatch={swatchOf(farm, plant)} size={36} />
              <span>
                <b>{plant.code}</b>
                <span class="small block">{[farm.beds.get(bedOf(farm, plant) ?? ('' as never))?.name ?? t('bed.unknown'), placeName(plant)].join(' · ')}</span>
                {plant.removed !== '' && <span class="small block">{t('plant.removed', { day: dayName(plant.removed, today.value) })}</span>}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
