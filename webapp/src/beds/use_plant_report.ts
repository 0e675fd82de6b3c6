// What the shed said last of a plant's crop, for the plant's page: kept on the device, and asked for anew where it cannot
// know the plant as this device does.

import { useEffect } from 'preact/hooks'
import type { Farm, Plant } from '../crop/nouns'
import { readingsOfPlant } from '../measuring/plant_readings'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { speciesOf } from './colour_stand'
import { answer, readColours, shed, type SpeciesColour } from './colours'
import { firmDiffers, unknownReadings } from './plant_colours'
import { useAskedAnew } from '../ui/use_asked_anew'

export interface PlantReport {
  /** undefined until the shed was asked once. */
  readonly told: SpeciesColour | undefined
  /** Readings on this device that it does not know, and those that it knows and are gone. */
  readonly newer: number
  readonly gone: number
  /** A stage, a light or a batch of cards was put right since. */
  readonly changed: boolean
}

export function usePlantReport(farm: Farm, plant: Plant): PlantReport {
  const notebook = useNotebook()
  useEffect(() => readColours(notebook), [])
  const told = answer.value?.species.find(({ species }) => species === speciesOf(farm, plant))
  const readings = readingsOfPlant(farm, plant.id)
  const unknown = told ? unknownReadings(farm, told, [plant.id]) : { newer: 0, gone: 0 }
  const changed = told !== undefined && unknown.newer === 0 && unknown.gone === 0 && firmDiffers(farm, told, plant.id)
  const outdated = readings.length > 0 && (!told || answer.value?.asof !== today.value || unknown.newer > 0 || unknown.gone > 0 || changed)
  useAskedAnew({ shed, said: JSON.stringify(readings.map(({ id, stage, light }) => [id, stage, light])), outdated, onOpening: false })
  return { told, ...unknown, changed }
}
