// Plants of a walk as rows: what each gave today, and a tap that goes there.

import { useMemo, useRef } from 'preact/hooks'
import type { BedID, Farm, Plant, PlantID } from '../crop/nouns'
import { count, t, words } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { placeName, swatchOf } from '../ui/words'
import { bedOfPlant, type DayState, viewOf } from './day'
import type { Session } from './session'

interface PlantRowsProps {
  readonly session: Session
  readonly bed: BedID
  readonly order: readonly Plant[]
  readonly at: PlantID | ''
  readonly onChoose: (plant: PlantID) => void
}

export function PlantRows({ session, bed, order, at, onChoose }: PlantRowsProps) {
  const farm = useNotebook().farm.value
  const { state } = viewOf(farm, today.value)
  const mixed = order.some((plant) => session.isCounted(plant))
  return (
    <ol class="rows">
      {order.map((plant) => (
        <Row
          key={plant.id} plant={plant} place={placeOf(farm, plant, bed)} swatch={swatchOf(farm, plant)} here={plant.id === at}
          {...state(plant.id)} mark={session.isCounted(plant) ? 'waiting' : mixed ? 'uncounted' : ''} onChoose={onChoose}
        />
      ))}
    </ol>
  )
}

/** With the bed's name where it is another. */
function placeOf(farm: Farm, plant: Plant, bed: BedID): string {
  const of = bedOfPlant(farm, plant.id)
  const place = placeName(plant)
  return of === bed || of === undefined ? place : t('jump.elsewhere', { bed: farm.beds.get(of)?.name ?? '', place })
}

interface RowProps extends DayState {
  readonly plant: Plant
  readonly place: string
  readonly swatch: string
  readonly here: boolean
  /** What is said of it while nobody has seen it; nothing where no plant is counted. */
  readonly mark: Unseen
  readonly onChoose: (plant: PlantID) => void
}

type Unseen = 'waiting' | 'uncounted' | ''

function Row({ plant, place, swatch, here, seen, stems, mark, onChoose }: RowProps) {
  const choose = useRef(onChoose)
  choose.current = onChoose
  // Beside the walk a tap changes one row of hundreds: the others are not even described again.
  return useMemo(() => (
    <li>
      <button type="button" class="line" aria-current={here ? 'step' : undefined} onClick={() => choose.current(plant.id)}>
        <Head swatch={swatch} size={36} />
        <span><b>{plant.code}</b><span class="small block">{place}</span></span>
        <Mark seen={seen} stems={stems} mark={mark} />
      </button>
    </li>
  ), [plant, place, swatch, here, seen, stems, mark, words.value])
}

function Mark({ seen, stems, mark }: DayState & { readonly mark: Unseen }) {
  if (stems > 0) return <span class="n" aria-label={t('stems', { n: stems })}>{count(stems)}</span>
  if (seen) return <span class="small"><Icon name="check" /> {t('row.list.nothing')}</span>
  if (mark === '') return null
  return <span class="small">{mark === 'waiting' ? t('row.list.waiting') : t('list.uncounted')}</span>
}
