// A bed's plants in walk order, each with its mark as counted this season.

import { useCallback, useRef, useState } from 'preact/hooks'
import { countedFacts } from '../crop/facts'
import type { Plant, PlantID, Season, Window } from '../crop/nouns'
import { standsBeside } from '../crop/seedlings'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { colourName, failureText, placeName, swatchOf, whereStands } from '../ui/words'
import { windowMarked } from './bed'

interface BedPlantsProps {
  readonly plants: readonly Plant[]
  readonly season: Season
  readonly at?: PlantID
  readonly onProblem: (text: string) => void
}

export function BedPlants({ plants, season, at, onProblem }: BedPlantsProps) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const { takenOff, toggle } = useCounted(season, onProblem)
  return (
    <ol class="rows plants">
      {plants.map((plant) => (
        <Row
          key={plant.id} plant={plant} chosen={plant.id === at} swatch={swatchOf(farm, plant)} colour={colourName(farm, plant)}
          where={standsBeside(plant) === '' ? undefined : whereStands(farm, plant)}
          counted={plant.counted.has(season)} undoable={takenOff.has(plant.id)} mayMark={may.manage} onToggle={toggle}
        />
      ))}
    </ol>
  )
}

/** Marks and unmarks plants as counted. The function stays the same, so that rows need not be drawn again for it. */
function useCounted(season: Season, onProblem: (text: string) => void) {
  const notebook = useNotebook()
  // The windows of marks taken off here: a slip of the finger is undone without losing its days.
  const [takenOff, setTakenOff] = useState<ReadonlyMap<PlantID, Window>>(new Map())
  const told = useRef({ season, takenOff, onProblem })
  told.current = { season, takenOff, onProblem }
  const toggle = useCallback(async (plant: Plant): Promise<boolean> => {
    const { season, takenOff, onProblem } = told.current
    const before = plant.counted.get(season)
    const now = before ? undefined : takenOff.get(plant.id) ?? windowMarked(notebook.farm.peek(), plant, season, today.peek())
    try {
      await notebook.record(countedFacts(plant.id, season, now))
    } catch (reason) {
      onProblem(failureText(reason))
      return false
    }
    if (before) setTakenOff((all) => new Map(all).set(plant.id, before))
    announce(t(before ? 'counted.off' : 'counted.on', { code: plant.code }))
    return true
  }, [notebook])
  return { takenOff, toggle }
}

interface RowProps {
  readonly plant: Plant
  readonly chosen: boolean
  readonly swatch: string
  readonly colour: string
  /** Of a seedling that stands beside another, which goes by where that one is; the others' place is their own. */
  readonly where: string | undefined
  readonly counted: boolean
  readonly undoable: boolean
  readonly mayMark: boolean
  /** Resolves to whether it was stored. */
  readonly onToggle: (plant: Plant) => Promise<boolean>
}

/** Given texts and objects that stay the same, so that a tap draws its own row alone (ui/rows_redrawn.test.ts). */
function Row({ plant, chosen, swatch, colour, where, counted, undoable, mayMark, onToggle }: RowProps) {
  // The browser has ticked the box by then; a row whose plant did not change is not drawn again, so it is put back here.
  const tick = async (box: HTMLInputElement) => {
    if (!await onToggle(plant)) box.checked = counted
  }
  return (
    <li>
      <a class="line" href={href('beds', 'plant', plant.id)} aria-current={chosen ? 'page' : undefined}>
        <Head swatch={swatch} size={36} />
        <span><b>{plant.code}</b><span class="small block">{where ?? placeName(plant)} · {colour}</span></span>
      </a>
      {mayMark
        ? (
          <label class="switch">
            <input type="checkbox" checked={counted} onChange={(event) => void tick(event.currentTarget)} />
            <span class="small"><span class="unseen">{plant.code} </span>{t('counted')}</span>
          </label>
        )
        : counted && <span class="small">{t('counted')}</span>}
      {undoable && !counted && (
        <div class="note undoable">
          <p>{t('counted.off', { code: plant.code })}</p>
          <button type="button" class="btn" onClick={() => void onToggle(plant)}>{t('undo')}</button>
        </div>
      )}
    </li>
  )
}
