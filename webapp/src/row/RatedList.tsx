// A rated walk as a list: what was found at each plant, what is left, and a jump to any.

import { useMemo, useRef } from 'preact/hooks'
import type { Bed, Plant, PlantID } from '../crop/nouns'
import { t, words } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { go, href } from '../ui/route'
import { placeName, swatchOf } from '../ui/words'
import type { RatedLook } from './RatedWalk'

interface RatedRowsProps<T extends string> {
  readonly look: RatedLook<T>
  readonly order: readonly Plant[]
  readonly at: PlantID | ''
  readonly onJump?: () => void
}

export function RatedList<T extends string>({ bed, title, ...rows }: RatedRowsProps<T> & { readonly bed: Bed; readonly title: string }) {
  const walk = ['row', rows.look.session.rating.name, bed.id]
  return (
    <>
      <PageHead title={title} back={href(...walk)} />
      <div class="page reading">
        <RatedRows {...rows} onJump={() => go(...walk)} />
        <a class="btn tall" href={href('row', 'walks', bed.id)}>{t('rated.walks')}</a>
      </div>
    </>
  )
}

export function RatedRows<T extends string>({ look, order, at, onJump }: RatedRowsProps<T>) {
  const farm = useNotebook().farm.value
  const jump = (plant: PlantID) => {
    look.session.goTo(plant)
    onJump?.()
  }
  return (
    <ol class="rows">
      {order.map((plant) => <Row key={plant.id} plant={plant} swatch={swatchOf(farm, plant)} found={look.found(plant)} here={plant.id === at} onJump={jump} />)}
    </ol>
  )
}

interface RowProps {
  readonly plant: Plant
  readonly swatch: string
  readonly found: string
  readonly here: boolean
  readonly onJump: (plant: PlantID) => void
}

function Row({ plant, swatch, found, here, onJump }: RowProps) {
  const jump = useRef(onJump)
  jump.current = onJump
  // Beside the walk a rating changes two rows of hundreds: the others are not even described again.
  return useMemo(() => (
    <li>
      <button type="button" class="line" aria-current={here ? 'step' : undefined} onClick={() => jump.current(plant.id)}>
        <Head swatch={swatch} size={36} />
        <span><b>{plant.code}</b><span class="small block">{placeName(plant)}</span></span>
        <span class="small">{found === '' ? t('rated.list.waiting') : <><Icon name="check" /> {found}</>}</span>
      </button>
    </li>
  ), [plant, swatch, found, here, words.value])
}
