// A bed's plants in walk order, each with its mark as counted this season.

import { countedFacts } from '../crop/facts'
import type { Plant, PlantID, Season } from '../crop/nouns'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { colourName, failureText, placeName, swatchOf } from '../ui/words'
import { windowFrom } from './bed'

interface BedPlantsProps {
  readonly plants: readonly Plant[]
  readonly season: Season
  readonly at?: PlantID
  readonly onProblem: (text: string) => void
}

export function BedPlants({ plants, season, at, onProblem }: BedPlantsProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const toggle = (plant: Plant) => {
    const window = plant.counted.has(season) ? undefined : windowFrom(farm, season, today.value)
    notebook.record(countedFacts(plant.id, season, window)).catch((reason: unknown) => onProblem(failureText(reason)))
  }
  return (
    <ol class="rows plants">
      {plants.map((plant) => (
        <li key={plant.id}>
          <a class="line" href={href('beds', 'plant', plant.id)} aria-current={plant.id === at ? 'page' : undefined}>
            <Head swatch={swatchOf(farm, plant)} size={36} />
            <span><b>{plant.code}</b><span class="small block">{placeName(plant)} · {colourName(farm, plant)}</span></span>
          </a>
          <label class="switch">
            <input type="checkbox" checked={plant.counted.has(season)} onChange={() => toggle(plant)} />
            <span class="small"><span class="unseen">{plant.code} </span>{t('counted')}</span>
          </label>
        </li>
      ))}
    </ol>
  )
}
