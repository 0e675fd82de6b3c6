// The walk as a row of heads: filled where seen today, hollow where not, a marker at the plant.

import { useEffect, useMemo, useRef } from 'preact/hooks'
import type { Farm, Plant, PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { HeadShape } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { swatchOf } from '../ui/words'
import { dayStateOf } from './walk'

const step = 18

interface StripProps {
  readonly farm: Farm
  readonly order: readonly Plant[]
  readonly at: PlantID
  readonly onJump: (plant: PlantID) => void
}

export function Strip({ farm, order, at, onJump }: StripProps) {
  const box = useRef<HTMLDivElement>(null)
  const index = order.findIndex((plant) => plant.id === at)
  const seen = order.map((plant) => dayStateOf(farm, plant.id, today.value).seen)
  const left = seen.filter((one) => !one).length
  useEffect(() => {
    if (box.current) box.current.scrollLeft = index * step - box.current.clientWidth / 2
  }, [index])
  const jump = (event: MouseEvent) => {
    const edge = (event.currentTarget as SVGElement).getBoundingClientRect().left
    const plant = order[Math.min(order.length - 1, Math.max(0, Math.floor((event.clientX - edge) / step)))]
    if (plant) onJump(plant.id)
  }
  return (
    <div class="strip">
      <div class="strip-heads" ref={box} tabIndex={0} role="group" aria-label={t('row.list')}>
        <svg
          width={order.length * step} height="44" role="img" onClick={jump}
          aria-label={t('row.strip', { seen: order.length - left, total: order.length })}
        >
          <Heads seen={seen.map((one, i) => (one ? swatchOf(farm, order[i]!) : undefined))} />
          <path d={`M${index * step + 3} 41l6-9 6 9z`} class="marker" />
        </svg>
      </div>
      <a class="btn left" href={href('row', 'plants')}><span>{t('row.left', { n: left })}</span><Icon name="list" /></a>
    </div>
  )
}

/** A head for each plant seen, in its colour, and a ring for each that is not. */
function Heads({ seen }: { readonly seen: readonly (string | undefined)[] }) {
  // Most taps change no head of the strip, and drawing them all again would cost more than the tap.
  return useMemo(() => (
    <g>
      {seen.map((swatch, i) => (swatch === undefined
        ? <circle key={i} cx={i * step + step / 2} cy="16" r="6" class="hollow" />
        : <HeadShape key={i} swatch={swatch} x={i * step + step / 2} y={16} r={8} />))}
    </g>
  ), [seen.map((one) => one ?? '-').join()])
}
