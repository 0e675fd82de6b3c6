// Where a plant stands: the lines of its bed in small, with it marked.

import { useMemo } from 'preact/hooks'
import type { Farm, Place, Plant } from '../crop/nouns'
import { placeOf } from '../crop/places'
import { footOf, standsBeside } from '../crop/seedlings'
import { t } from '../messages/messages'
import { today } from '../ui/today'
import { mapOf } from './bed_map'

/** Units of the drawing between two plants, and between two lines. */
const along = 12
const across = 22

export function PlantMap({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const place = placeOf(farm, plant) ?? (standsBeside(plant) === '' ? undefined : footOf(farm, plant))
  return place ? <Map farm={farm} place={place} /> : null
}

function Map({ farm, place }: { readonly farm: Farm; readonly place: Place }) {
  const map = useMemo(() => mapOf(farm, place.bed, today.peek()), [farm.layoutVersion, place.bed, today.value])
  if (!map) return null
  const isDrawn = place.number <= map.length
  const x = (number: number) => (number - 0.5) * along
  const y = (line: number) => 14 + (line - 0.5) * across
  return (
    <figure class="plant-map">
      <svg
        viewBox={`0 -4 ${map.length * along} ${map.lines * across + 22}`} role="img"
        aria-label={t('plant.map', { bed: farm.beds.get(place.bed)?.name ?? t('bed.unknown'), lines: map.lines, line: place.line, number: place.number, length: map.length })}
      >
        {map.spots.map((spot) => <circle key={spot.plant} class={spot.gone ? 'gap' : 'spot'} cx={x(spot.number)} cy={y(spot.line)} r={spot.gone ? 1.6 : 3.6} />)}
        {isDrawn && <circle class="here" cx={x(place.number)} cy={y(place.line)} r="5" />}
        {isDrawn && <path class="here-mark" d={`M${x(place.number) - 5} ${y(place.line) - 14}h10l-5 6z`} />}
      </svg>
      <figcaption class="small">
        {t('plant.map.caption', { line: place.line, number: place.number, length: map.length })}
        {!isDrawn && <span class="block">{t('far.this')}</span>}
        {isDrawn && map.far > 0 && <span class="block">{t('far.plants', { n: map.far })}</span>}
      </figcaption>
    </figure>
  )
}
