// Scanning a tag in the row: the walk goes on at that plant where it stands in the bed that is walked, called
// out there or not, and else says where it stands and offers the ways there.

import { useState } from 'preact/hooks'
import { bedOf } from '../crop/places'
import type { Farm, Plant } from '../crop/nouns'
import { stands } from '../crop/standing'
import { dayName, t } from '../messages/messages'
import { ScanView } from '../scan/ScanView'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { goInstead, href } from '../ui/route'
import { today } from '../ui/today'
import { Session } from './session'

export function ScanPlant() {
  const notebook = useNotebook()
  const session = Session.of(notebook)
  const [elsewhere, setElsewhere] = useState<Plant | undefined>(undefined)
  const position = session.position.value
  const back = position ? href('row', 'plants') : href('row')
  const onPlant = (plant: Plant) => {
    const farm = notebook.farm.peek()
    const isHere = position === undefined || bedOf(farm, plant) === position.bed
    if (isHere && walksTo(session, plant)) return
    announce(whereText(farm, plant))
    setElsewhere(plant)
  }
  return elsewhere
    ? <Elsewhere session={session} plant={elsewhere} back={back} onAgain={() => setElsewhere(undefined)} />
    : <ScanView back={back} onPlant={onPlant} />
}

/** Goes on at a plant; false where it is gone or in no bed. */
function walksTo(session: Session, plant: Plant): boolean {
  if (!stands(plant.removed, today.peek()) || !session.jump(plant.id)) return false
  goInstead('row')
  return true
}

interface ElsewhereProps {
  readonly session: Session
  readonly plant: Plant
  readonly back: string
  readonly onAgain: () => void
}

function Elsewhere({ session, plant, back, onAgain }: ElsewhereProps) {
  const farm = useNotebook().farm.value
  const bed = farm.beds.get(bedOf(farm, plant) ?? ('' as never))
  return (
    <>
      <PageHead title={plant.code} back={back} />
      <div class="page reading">
        <p class="say">{whereText(farm, plant)}</p>
        {bed && stands(plant.removed, today.value) && (
          <button type="button" class="btn main" onClick={() => void walksTo(session, plant)}>{t('row.scan.walk', { bed: bed.name })}</button>
        )}
        <a class="btn tall" href={href('beds', 'plant', plant.id)}>{t('row.scan.page')}</a>
        <button type="button" class="btn tall" onClick={onAgain}>{t('row.scan.again')}</button>
      </div>
    </>
  )
}

function whereText(farm: Farm, plant: Plant): string {
  if (!stands(plant.removed, today.value)) return t('row.scan.gone', { code: plant.code, day: dayName(plant.removed, today.value) })
  const bed = farm.beds.get(bedOf(farm, plant) ?? ('' as never))
  return t('row.scan.other_bed', { code: plant.code, bed: bed?.name ?? t('bed.unknown') })
}
