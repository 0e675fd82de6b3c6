// A bed's plants in walk order, each with its mark as counted this season.

import { useState } from 'preact/hooks'
import { countedFacts } from '../crop/facts'
import type { Plant, PlantID, Season, Window } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { colourName, failureText, placeName, swatchOf } from '../ui/words'
import { windowMarked } from './bed'

interface BedPlantsProps {
  readonly plants: readonly Plant[]
  readonly season: Season
  readonly at?: PlantID
  readonly onProblem: (text: string) => void
}

export function BedPlants({ plants, season, at, onProblem }: BedPlantsProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  // The windows of marks taken off here: a slip of the finger is undone without losing its days.
  const [takenOff, setTakenOff] = useState<ReadonlyMap<PlantID, Window>>(new Map())
  const toggle = async (plant: Plant) => {
    const before = plant.counted.get(season)
    const now = before ? undefined : takenOff.get(plant.id) ?? windowMarked(farm, plant, season, today.value)
    try {
      await notebook.record(countedFacts(plant.id, season, now))
    } catch (reason) {
      return onProblem(failureText(reason))
    }
    if (before) setTakenOff((all) => new Map(all).set(plant.id, before))
    announce(t(before ? 'counted.off' : 'counted.on', { code: plant.code }))
  }
  return (
    <ol class="rows plants">
      {plants.map((plant) => (
        <li key={plant.id}>
          <a class="line" href={href('beds', 'plant', plant.id)} aria-current={plant.id === at ? 'page' : undefined}>
            <Head swatch={swatchOf(farm, plant)} size={36} />
            <span><b>{plant.code}</b><span class="small block">{placeName(plant)} · {colourName(farm, plant)}</span></span>
          </a>
          {may.manage
            ? (
              <label class="switch">
                <input type="checkbox" checked={plant.counted.has(season)} onChange={() => void toggle(plant)} />
                <span class="small"><span class="unseen">{plant.code} </span>{t('counted')}</span>
              </label>
            )
            : plant.counted.has(season) && <span class="small">{t('counted')}</span>}
          {takenOff.has(plant.id) && !plant.counted.has(season) && (
            <div class="note undoable">
              <p>{t('counted.off', { code: plant.code })}</p>
              <button type="button" class="btn" onClick={() => void toggle(plant)}>{t('undo')}</button>
            </div>
          )}
        </li>
      ))}
    </ol>
  )
}
