// A bed drawn plainly as it is told: its lines, what stands, and what is about to be planted.

import type { Bed, LengthUnit, Place } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { lengthMeasured } from '../ui/lengths'
import { barPaths, dotPaths, drawingOf } from './bed_drawing'

interface BedDrawingProps {
  readonly bed: Pick<Bed, 'length' | 'width' | 'lines'>
  readonly standing: readonly Place[]
  readonly filled: readonly Place[]
  readonly unit: LengthUnit
}

/** Pixels of the drawing's own; it takes the room that there is. */
const pixels = 320
/** Room for a place that lies on the edge of a stretch. */
const margin = 6

export function BedDrawing({ bed, standing, filled, unit }: BedDrawingProps) {
  const d = drawingOf(bed, [...standing, ...filled], pixels)
  const [bars, dots] = [barPaths(d, standing), dotPaths(d, filled)]
  const dot = Math.min(10, Math.max(1.6, d.room * 0.7))
  const name = t('drawing.name', { lines: d.lines, standing: standing.length, filled: filled.length })
  return (
    <figure class="bed-drawing">
      <div role="img" aria-label={name}>
        {Array.from({ length: d.stretches }, (_, i) => (
          <svg key={i} viewBox={`${-margin} ${-margin} ${pixels + 2 * margin} ${d.height + 2 * margin}`} aria-hidden="true">
            <rect class="ground" width={d.width} height={d.height} rx="2" />
            {Array.from({ length: d.lines }, (__, line) => <path key={line} class="row-line" d={`M0 ${(((line + 0.5) / d.lines) * d.height).toFixed(1)}h${d.width}`} />)}
            <path class="stands" d={bars[i]} />
            <path class="fills" d={dots[i]} stroke-width={dot} />
          </svg>
        ))}
      </div>
      <figcaption class="small">
        {scaleText(bed, d.stretches, unit)}
        {d.far.length > 0 && <span class="block">{t('far.places', { n: d.far.length, which: placesSaid(d.far) })}</span>}
        {standing.length > 0 && <span class="block"><i class="key stands" /> {t('drawing.stands', { n: standing.length })}</span>}
        {filled.length > 0 && <span class="block"><i class="key fills" /> {t('drawing.fills', { n: filled.length })}</span>}
      </figcaption>
    </figure>
  )
}

/** Places in words, the first few of many. */
function placesSaid(places: readonly Place[]): string {
  const said = places.slice(0, mostSaid).map(({ line, number }) => t('place', { line, number }))
  return places.length > mostSaid ? t('far.more', { which: said.join('; '), n: places.length - mostSaid }) : said.join('; ')
}

const mostSaid = 3

function scaleText(bed: Pick<Bed, 'length' | 'width'>, stretches: number, unit: LengthUnit): string {
  if (bed.length === 0 || bed.width === 0) return t('drawing.no_scale')
  const size = t('bed.size', { length: lengthMeasured(bed.length, unit), width: lengthMeasured(bed.width, unit) })
  return stretches === 1 ? t('drawing.scale', { size }) : t('drawing.stretches', { size, stretches: count(stretches) })
}
