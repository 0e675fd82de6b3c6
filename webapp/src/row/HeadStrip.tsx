// A walk as a row of marks, one a plant: a tap jumps there, a marker shows where the walk stands.

import { useEffect, useMemo, useRef } from 'preact/hooks'
import type { Plant, PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { HeadShape } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { inPiece, usePieces } from './pieces'

const step = 18
const middle = 24

/** A head in a colour, a smaller one, a cross where nothing stands, or a ring for what is still to be seen. */
export type StripMark = { readonly kind: 'head' | 'small'; readonly swatch: string } | { readonly kind: 'cross' | 'ring' }

interface HeadStripProps {
  readonly order: readonly Plant[]
  readonly marks: readonly StripMark[]
  readonly at: PlantID
  /** How many are seen, in words. */
  readonly label: string
  /** How many are left, on the link to the list. */
  readonly left: string
  readonly list: string
  readonly onJump: (plant: PlantID) => void
}

export function HeadStrip({ order, marks, at, label, left, list, onJump }: HeadStripProps) {
  const box = useRef<HTMLDivElement>(null)
  const index = order.findIndex((plant) => plant.id === at)
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
      <div class="strip-walk">
        <div class="strip-heads" ref={box} tabIndex={0} role="group" aria-label={t('row.list')}>
          <svg width={order.length * step} height="60" role="img" onClick={jump} aria-label={label}>
            <Marks marks={marks} />
            <path d={`M${index * step + 3} 50l6-9 6 9z`} class="marker" />
          </svg>
        </div>
      </div>
      <a class="btn left" href={list}><span>{left}</span><Icon name="list" /></a>
    </div>
  )
}

function Marks({ marks }: { readonly marks: readonly StripMark[] }) {
  // A rating changes one mark of the strip, and drawing them all again would cost more than the tap.
  return <>{usePieces(marks, sameMark).map((piece, i) => <Piece key={i} marks={piece} from={i * inPiece} />)}</>
}

function Piece({ marks, from }: { readonly marks: readonly StripMark[]; readonly from: number }) {
  return useMemo(() => <g>{marks.map((mark, i) => <Mark key={i} mark={mark} x={(from + i) * step + step / 2} />)}</g>, [marks])
}

function sameMark(a: StripMark, b: StripMark): boolean {
  return a.kind === b.kind && ('swatch' in a ? a.swatch : '') === ('swatch' in b ? b.swatch : '')
}

function Mark({ mark, x }: { readonly mark: StripMark; readonly x: number }) {
  switch (mark.kind) {
    case 'head': return <HeadShape swatch={mark.swatch} x={x} y={middle} r={8} />
    case 'small': return <HeadShape swatch={mark.swatch} x={x} y={middle} r={5} />
    case 'cross': return <path class="cross" d={`M${x - 5} ${middle - 5}l10 10m0-10l-10 10`} />
    case 'ring': return <circle cx={x} cy={middle} r="6" class="hollow" />
  }
}
