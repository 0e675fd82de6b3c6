// The walk as a row of heads: filled where seen today, hollow where not, a marker at the plant; below
// them the running totals.

import { useEffect, useMemo, useRef } from 'preact/hooks'
import type { BedID, Farm, Plant, PlantID } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { HeadShape } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { swatchOf } from '../ui/words'
import { viewOf } from './day'
import { inPiece, usePieces } from './pieces'
import type { Session } from './session'

const step = 18

interface StripProps {
  readonly session: Session
  readonly farm: Farm
  readonly bed: BedID
  readonly order: readonly Plant[]
  readonly at: PlantID
}

export function Strip({ session, farm, bed, order, at }: StripProps) {
  const box = useRef<HTMLDivElement>(null)
  const view = viewOf(farm, today.value)
  const index = order.findIndex((plant) => plant.id === at)
  const seen = order.map((plant) => view.state(plant.id).seen)
  const counted = order.filter((plant) => session.isCounted(plant))
  const left = counted.filter((plant) => !view.state(plant.id).seen).length
  useEffect(() => {
    if (box.current) box.current.scrollLeft = index * step - box.current.clientWidth / 2
  }, [index])
  const jump = (event: MouseEvent) => {
    const edge = (event.currentTarget as SVGElement).getBoundingClientRect().left
    const plant = order[Math.min(order.length - 1, Math.max(0, Math.floor((event.clientX - edge) / step)))]
    if (plant) session.goTo(plant.id)
  }
  return (
    <div class="strip">
      <div class="strip-walk">
        <div class="strip-heads" ref={box} tabIndex={0} role="group" aria-label={t('row.list')}>
          <svg
            width={order.length * step} height="60" role="img" onClick={jump}
            aria-label={t('row.strip', { seen: seen.filter(Boolean).length, total: order.length })}
          >
            <Heads seen={order.map((plant, i) => (seen[i] ? swatchOf(farm, plant) : undefined))} />
            <path d={`M${index * step + 3} 31l6-8 6 8z`} class="marker" />
          </svg>
        </div>
        <Totals plant={view.state(at).stems} bed={view.ofBed(bed)} today={view.stems} />
      </div>
      <a class="btn left" href={href('row', 'plants')}>
        <Icon name="list" />
        <span>{counted.length > 0 ? t('row.left', { n: left }) : t('plants', { n: order.length })}</span>
      </a>
    </div>
  )
}

/** A head for each plant seen, in its colour, and a ring for each that is not. */
function Heads({ seen }: { readonly seen: readonly (string | undefined)[] }) {
  // Most taps change none, the others one: drawing all of a long bed would cost more than the tap.
  return <>{usePieces(seen, Object.is).map((piece, i) => <Piece key={i} seen={piece} from={i * inPiece} />)}</>
}

function Piece({ seen, from }: { readonly seen: readonly (string | undefined)[]; readonly from: number }) {
  return useMemo(() => <g>{seen.map((swatch, i) => <OneHead key={i} swatch={swatch} x={(from + i) * step + step / 2} />)}</g>, [seen])
}

function OneHead({ swatch, x }: { readonly swatch: string | undefined; readonly x: number }) {
  return swatch === undefined ? <circle cx={x} cy="12" r="6" class="hollow" /> : <HeadShape swatch={swatch} x={x} y={12} r={8} />
}

interface TotalsProps {
  readonly plant: number
  readonly bed: number
  readonly today: number
}

/** Stems that everybody cut: of the plant, of the bed, and of every bed today. */
function Totals(props: TotalsProps) {
  return (
    <dl class="totals" aria-label={t('totals')}>
      {(['plant', 'bed', 'today'] as const).map((one) => <div key={one}><dt>{t(`totals.${one}`)}</dt><dd>{count(props[one])}</dd></div>)}
    </dl>
  )
}
