// The count grid at a plant: what this person cut of it today, by grade and length, corrections
// included. What others cut stands in the plant's total above.

import { useMemo } from 'preact/hooks'
import { plantCell } from '../crop/facts'
import type { Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { CountGrid } from '../ui/CountGrid'
import { lengthsInUse } from '../ui/lengths'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Session } from './session'

interface StemGridProps {
  readonly session: Session
  readonly plant: Plant
}

export function StemGrid({ session, plant }: StemGridProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const inUse = useMemo(() => lengthsInUse(farm), [farm])
  const visit = notebook.visitID(plant.id, today.value, 'cut')
  const last = session.last()
  return (
    <CountGrid
      inUse={inUse}
      unit={farm.unit}
      stems={(grade, length) => notebook.cell(visit, plantCell(grade, length)).total}
      last={last?.kind === 'count' && last.plant === plant.id && last.grade !== '' ? last : undefined}
      adds={t('grid.adds.stem')}
      onTap={(grade, length) => session.stem(plant.id, grade, length)}
    />
  )
}
