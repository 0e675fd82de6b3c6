// Needs a look, of plants and places: what two phones said without seeing each other, each with what was
// kept and what settles it. An owner settles; others see it.

import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { noParentFacts } from '../crop/facts'
import { settlePlace } from '../crop/lineage'
import { bringBack, bringBackBed, bringBackGround, leaveOutVisits, withdrawPlant } from '../crop/mistakes'
import type { BedID, Farm, Plant, PlantID, PlantLook } from '../crop/nouns'
import { bedOf, placeOf, samePlace } from '../crop/places'
import { dayName, listed, t } from '../messages/messages'
import type { Fact } from '../log/change'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { codeOf, failureText, placeWritten } from '../ui/words'

export function PlantLookCard({ look }: { readonly look: PlantLook }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const [problem, setProblem] = useState('')
  const settle: Settle = (say) => {
    notebook.recordInTurn(() => ({ facts: say(notebook.farm.peek()), alongside: {} })).catch((reason: unknown) => setProblem(failureText(reason)))
  }
  const plants = look.plants.flatMap((id) => farm.plants.get(id) ?? [])
  return (
    <div class="card">
      <p>{lookText(farm, look, plants)}</p>
      {may.manage
        ? <div class="choices settles"><Ways farm={farm} look={look} plants={plants} settle={settle} /></div>
        : <p class="small">{t(may.record ? 'owner_only.settle' : 'looks_on.settle')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}

/** Records what settles a look, from the farm as it stands by then. */
type Settle = (say: (farm: Farm) => readonly Fact[]) => void

function lookText(farm: Farm, { kind, plants: ids }: PlantLook, plants: readonly Plant[]): string {
  const codes = listed(ids.map((id) => codeOf(farm, id)))
  const [id] = ids
  const code = id === undefined ? '' : codeOf(farm, id)
  const n = kind === 'counted_withdrawn' && id !== undefined ? farm.visitsOf.get(id)?.size ?? 0 : ids.length
  const [place] = plants.flatMap((plant) => placeOf(farm, plant) ?? [])
  const bed = plants.slice(0, 1).map((plant) => farm.withdrawn.beds.get(bedOf(farm, plant) ?? ('' as BedID))?.name).join('')
  return t(`plant_looks.${kind}`, { code, codes, n, bed, place: place ? placeWritten(farm, place) : t('place.unknown') })
}

interface WaysProps {
  readonly farm: Farm
  readonly look: PlantLook
  readonly plants: readonly Plant[]
  readonly settle: Settle
}

function Ways({ farm, look: { kind, plants: ids }, plants, settle }: WaysProps) {
  switch (kind) {
    case 'shared_place': return <>{plants.map((plant) => <MoveOrTakeOut key={plant.id} plant={plant} />)}</>
    case 'two_places': return <>{plants.map((plant) => <WhichPlace key={plant.id} farm={farm} plant={plant} settle={settle} />)}</>
    case 'same_code': return <>{plants.map((plant) => <a key={plant.id} class="btn" href={href('beds', 'code', plant.id)}>{t('plant_looks.same_code.give', { place: whereIs(farm, plant) })}</a>)}</>
    case 'own_ancestor': return <>{plants.map((plant) => <WhichParent key={plant.id} farm={farm} plant={plant} settle={settle} />)}</>
    case 'counted_withdrawn': return <>{ids.map((id) => <CountedWithdrawn key={id} id={id} settle={settle} />)}</>
    case 'no_planting': return <NoPlanting ids={ids} settle={settle} />
    case 'no_bed': return <NoBed plants={plants} settle={settle} />
  }
}

function whereIs(farm: Farm, plant: Plant): string {
  const place = placeOf(farm, plant)
  return place ? placeWritten(farm, place) : t('place.unknown')
}

function MoveOrTakeOut({ plant: { id, code } }: { readonly plant: Plant }) {
  return (
    <>
      <a class="btn" href={href('beds', 'move', id)}>{t('plant_looks.move', { code })}</a>
      <a class="btn" href={href('beds', 'plant', id)}>{t('plant_looks.out', { code })}</a>
    </>
  )
}

interface WhichProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly settle: Settle
}

function WhichPlace({ farm, plant, settle }: WhichProps) {
  return (
    <>
      {plant.places.filter((place, i, all) => all.findIndex((one) => samePlace(one, place)) === i).map((place) => (
        <Way key={place.move} onWay={() => settle((now) => {
          const it = now.plants.get(plant.id)
          const kept = it?.places.find(({ move }) => move === place.move)
          return it && kept ? settlePlace(it, kept) : []
        })}
        >
          {t('plant_looks.two_places.here', { place: placeWritten(farm, place), day: dayName(place.since, today.value) })}
        </Way>
      ))}
    </>
  )
}

function WhichParent({ farm, plant, settle }: WhichProps) {
  return (
    <>
      {plant.parents.map((parent) => (
        <Way key={parent} onWay={() => settle(() => noParentFacts(plant.id, parent))}>{t('plant_looks.own_ancestor.not', { parent: codeOf(farm, parent), code: plant.code })}</Way>
      ))}
    </>
  )
}

function CountedWithdrawn({ id, settle }: { readonly id: PlantID; readonly settle: Settle }) {
  return (
    <>
      <Way onWay={() => settle((farm) => bringBack(farm, id))}>{t('looks.restore')}</Way>
      <Way onWay={() => settle((farm) => leaveOutVisits(farm, id))}>{t('plant_looks.counted_withdrawn.leave')}</Way>
    </>
  )
}

function NoPlanting({ ids, settle }: { readonly ids: readonly PlantID[]; readonly settle: Settle }) {
  const back = (farm: Farm) => ids.slice(0, 1).flatMap((id) => {
    const planting = farm.plants.get(id)?.planting
    return planting === undefined ? [] : bringBackGround(farm, planting)
  })
  return (
    <>
      <Way onWay={() => settle(back)}>{t('plant_looks.no_planting.back')}</Way>
      <Way onWay={() => settle(() => ids.flatMap((id) => withdrawPlant(id).facts))}>{t('plant_looks.no_planting.withdraw')}</Way>
    </>
  )
}

function NoBed({ plants, settle }: Pick<WaysProps, 'plants' | 'settle'>) {
  return (
    <>
      <Way onWay={() => settle((farm) => plants.slice(0, 1).flatMap(({ id }) => bringBackBed(farm, id)))}>{t('plant_looks.no_bed.back')}</Way>
      {plants.length <= fewPlants && plants.map((plant) => <MoveOrTakeOut key={plant.id} plant={plant} />)}
    </>
  )
}

/** So many are moved one by one; a whole tray waits until its bed is back. */
const fewPlants = 5

function Way({ onWay, children }: { readonly onWay: () => void; readonly children: ComponentChildren }) {
  return <button type="button" class="btn" onClick={onWay}>{children}</button>
}
