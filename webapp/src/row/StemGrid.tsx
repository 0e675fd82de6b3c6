// The count grid at a plant: what this person cut of it today, by grade and length, corrections
// included. What others cut stands in the plant's total above.

import { plantCell } from '../crop/facts'
import type { Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { CountGrid } from '../ui/CountGrid'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { useLengths } from '../ui/use_lengths'
import type { Session } from './session'

interface StemGridProps {
  readonly session: Session
  readonly plant: Plant
}

export function StemGrid({ session, plant }: StemGridProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const visit = notebook.visitID(plant.id, today.value, 'cut')
  const inUse = useLengths(farm.visits.get(visit)?.counts ?? [])
  const last = session.last()
  const step = session.adds.value
  return (
    <CountGrid
      inUse={inUse}
      unit={farm.unit}
      stems={(grade, length) => notebook.cell(visit, plantCell(grade, length)).total}
      last={last?.kind === 'count' && last.plant === plant.id && last.grade !== '' ? last : undefined}
      adds={step === 1 ? t('grid.adds.stem') : t('grid.adds', { n: step })}
      onTap={(grade, length) => session.stem(plant.id, grade, length)}
      onFlick={(grade, length) => session.lastStem(plant.id, grade, length)}
    />
  )
}

/** How many the next tap adds. It falls back to one after that tap and at another plant: a step that
 *  was forgotten counts ten where one was cut, and costs more than a tap before each further ten. */
export function Steps({ session }: { readonly session: Session }) {
  const step = session.adds.value
  return (
    <>
      {([5, 10] as const).map((n) => (
        <button
          key={n} type="button" class="btn tall square step" aria-pressed={step === n} aria-label={t('grid.step', { n })}
          onClick={() => { session.adds.value = step === n ? 1 : n }}
        >
          +{n}
        </button>
      ))}
    </>
  )
}
