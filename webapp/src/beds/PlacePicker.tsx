// Choosing places in a bed: its lines drawn from one end, what stands there, free places and gaps.

import { useMemo, useState } from 'preact/hooks'
import type { Bed, BedID, Farm, Place, Plant, PlantID } from '../crop/nouns'
import { placeKey } from '../crop/places'
import { nearestTo } from '../crop/seedlings'
import { count, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { swatchOf } from '../ui/words'
import { bedsByName } from './bed'
import './place-picker.css'
import { BedPlaces, type Picked, pickedIn, type Row, type Spot, tapped } from './place_picker'

interface PlacePickerProps {
  readonly title: string
  readonly picked: Picked
  /** How many places are to be chosen. */
  readonly wanted: number
  readonly onPick: (picked: Picked) => void
  /** Plants that leave their place with this. */
  readonly leaving?: readonly PlantID[]
  /** Whether it may stand in a bed without a place; a seedling in a gap may not. */
  readonly placeless?: boolean
  /** A bed that is settled already. */
  readonly fixed?: boolean
}

export function PlacePicker({ title, picked, wanted, onPick, leaving = [], placeless = true, fixed = false }: PlacePickerProps) {
  const farm = useNotebook().farm.value
  const [more, setMore] = useState(0)
  const bed = picked.bed === '' ? undefined : farm.beds.get(picked.bed)
  const places = useMemo(() => bed && new BedPlaces(farm, bed, leaving), [farm, bed, leaving.join()])
  const last = picked.places.at(-1)
  const left = wanted - picked.places.length
  return (
    <section class="card picker">
      <h2>{title}</h2>
      {!fixed && <BedChoice farm={farm} bed={picked.bed} onChoose={(id) => { setMore(0); onPick({ ...pickedIn(id), somewhere: picked.somewhere }) }} />}
      {placeless && (
        <label class="switch">
          <input type="checkbox" checked={picked.somewhere} onChange={() => onPick({ ...picked, somewhere: !picked.somewhere })} />
          <span>{t('picker.somewhere')}</span>
        </label>
      )}
      {bed && places && !picked.somewhere && (
        <>
          <div class="picker-state">
            {places.clashes(picked.places).map((clash) => <Clash key={placeKey(clash.place)} {...clash} onLetGo={() => onPick(tapped(picked, clash.place, wanted))} />)}
            <p class="small" role="status">{left > 0 ? t('picker.left', { n: left }) : t('picker.all', { n: wanted })}</p>
            {wanted > 1 && left > 0 && last && (
              <button type="button" class="btn" onClick={() => onPick({ ...picked, places: filledFrom(places, picked.places, last, wanted) })}>{t('picker.fill', { n: left })}</button>
            )}
            {last && places.isGap(last) && placeless && <SeedlingHere farm={farm} place={last} />}
          </div>
          <Drawn farm={farm} bed={bed} places={places} rows={places.rows(picked.places, more)} picked={picked} onTap={(place) => onPick(tapped(picked, place, wanted))} />
          <button type="button" class="btn quiet" onClick={() => setMore(more + 8)}>{t('picker.further')}</button>
          {places.far.length > 0 && <p class="small">{t('far.plants', { n: places.far.length })} {places.far.map(({ code }) => code).join(', ')}</p>}
          <p class="small">{t('picker.key')}</p>
        </>
      )}
    </section>
  )
}

/** Those chosen so far, and the next free ones behind the last of them. */
function filledFrom(places: BedPlaces, chosen: readonly Place[], last: Place, wanted: number): Place[] {
  const has = new Set(chosen.map(placeKey))
  return [...chosen, ...places.nextFree(last, wanted + chosen.length).filter((place) => !has.has(placeKey(place)))].slice(0, wanted)
}

/** A bed of the farm; '' while none is chosen. */
export function BedChoice({ farm, bed, onChoose }: { readonly farm: Farm; readonly bed: BedID | ''; readonly onChoose: (bed: BedID) => void }) {
  return (
    <label class="field">
      <span>{t('picker.bed')}</span>
      <select value={bed} onChange={(event) => onChoose(event.currentTarget.value as BedID)}>
        {bed === '' && <option value="" disabled>{t('picker.bed.none')}</option>}
        {bedsByName(farm).map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
      </select>
    </label>
  )
}

interface DrawnProps {
  readonly farm: Farm
  readonly bed: Bed
  readonly places: BedPlaces
  readonly rows: readonly Row[]
  readonly picked: Picked
  readonly onTap: (place: Place) => void
}

function Drawn({ farm, bed, places, rows, picked, onTap }: DrawnProps) {
  const order = new Map(picked.places.map((place, i) => [placeKey(place), i + 1]))
  const name = t('picker.name', { bed: bed.name })
  return (
    <div class="places" role="group" aria-label={name} style={{ '--lines': places.lines }}>
      <span class="small" aria-hidden="true" />
      {Array.from({ length: places.lines }, (_, i) => <span key={i} class="line-name small" aria-hidden="true">{t('picker.line', { n: i + 1 })}</span>)}
      {rows.map((row) => 'from' in row
        ? <p key={`from ${row.from}`} class="stretch small">{t('picker.full', { from: row.from, to: row.to })}</p>
        : [
          <span key={row.number} class="place-number small" aria-hidden="true">{count(row.number)}</span>,
          ...row.spots.map((spot) => <SpotButton key={placeKey(spot.place)} farm={farm} spot={spot} chosen={order.get(placeKey(spot.place))} onTap={onTap} />),
        ])}
    </div>
  )
}

interface SpotButtonProps {
  readonly farm: Farm
  readonly spot: Spot
  /** As which it is chosen. */
  readonly chosen: number | undefined
  readonly onTap: (place: Place) => void
}

function SpotButton({ farm, spot, chosen, onTap }: SpotButtonProps) {
  const { place, plant, is } = spot
  const where = t('place', { line: place.line, number: place.number })
  if (plant) {
    const taken = t('picker.taken', { place: where, code: plant.code })
    return (
      <span class="spot taken" role="img" aria-label={spot.seedlings > 0 ? t('picker.taken.seedlings', { taken, n: spot.seedlings }) : taken} title={plant.code}>
        <Head swatch={swatchOf(farm, plant)} size={34} />
        {spot.seedlings > 0 && <span class="seedlings">+{count(spot.seedlings)}</span>}
      </span>
    )
  }
  const free = t(is === 'gap' ? 'picker.gap' : 'picker.free', { place: where })
  return (
    <button
      type="button" class={`spot ${is}`} aria-pressed={chosen !== undefined}
      aria-label={chosen === undefined ? free : t('picker.chosen', { n: chosen, free })} onClick={() => onTap(place)}
    >
      {chosen ?? (is === 'gap' ? t('picker.gap.word') : '+')}
    </button>
  )
}

/** A chosen place in which another plant stands: it may lie in a stretch that is not drawn, so it is let go of here. */
function Clash({ place, plant, onLetGo }: { readonly place: Place; readonly plant: Plant; readonly onLetGo: () => void }) {
  const where = t('place', { line: place.line, number: place.number })
  return (
    <div class="note warn" role="alert">
      <p>{t('picker.clash', { place: where, code: plant.code })}</p>
      <button type="button" class="btn" onClick={onLetGo}>{t('picker.let_go', { place: where })}</button>
    </div>
  )
}

/** A gap may not be empty: something may have come up in it by itself. */
function SeedlingHere({ farm, place }: { readonly farm: Farm; readonly place: Place }) {
  const neighbour = nearestTo(farm, place)
  if (!neighbour) return null
  return <a class="own-line" href={href('beds', 'seedling', neighbour.id, String(place.line), String(place.number))}>{t('picker.seedling')}</a>
}
