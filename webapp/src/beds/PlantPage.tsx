// One plant: where it stands, where it comes from, what it gave, and its visits.

import { useEffect } from 'preact/hooks'
import type { Farm, Plant, PlantID } from '../crop/nouns'
import { ageIn, seasonOf } from '../crop/season'
import { count, dayName, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Marked } from '../ui/Say'
import { today } from '../ui/today'
import { colourName, placeName, swatchOf } from '../ui/words'
import { readAges, worthOf } from './ages'
import { inHundred, times } from './ages_sentence'
import { PlantPhotos } from './PlantPhotos'
import { seasonsOfPlant } from './stems'
import { VisitList } from './VisitList'

export function PlantPage({ plant }: { readonly plant: Plant }) {
  const farm = useNotebook().farm.value
  const planting = farm.plantings.get(plant.planting)
  const may = useRights()
  return (
    <div class="plant-page">
      <PageHead title={plant.code} back={planting ? href('beds', 'bed', planting.bed) : href('beds')} />
      <div class="page">
        <div class="plant-top">
          <Head swatch={swatchOf(farm, plant)} size={84} />
          <PlantFacts farm={farm} plant={plant} />
        </div>
        <Worth plant={plant.id} />
        <PlantPhotos plant={plant} mayAdd={may.record} mayDelete={may.manage} />
        <Seasons farm={farm} plant={plant.id} />
        <h2>{t('plant.visits')}</h2>
        <VisitList plant={plant.id} />
      </div>
    </div>
  )
}

function PlantFacts({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const planting = farm.plantings.get(plant.planting)
  const stock = planting && farm.stocks.get(planting.stock)
  const bed = planting && farm.beds.get(planting.bed)
  return (
    <div class="plant-facts">
      <p><b>{stock?.name ?? t('stock.unknown')}</b></p>
      <p class="small">{[bed?.name, placeName(plant), colourName(farm, plant)].filter(Boolean).join(' · ')}</p>
      {planting && (
        <p class="small">
          {t('planted', { day: dayName(planting.planted, today.value) })} · {t('season.in_ground', { age: ageIn(planting, seasonOf(farm.calendar, today.value)) })}
        </p>
      )}
      {stock?.protected && <p class="small protected">{t('stock.protected')}</p>}
      {plant.removed !== '' && <p class="small">{t('plant.removed', { day: dayName(plant.removed, today.value) })}</p>}
      {plant.parents.length > 0 && <p class="small">{t('plant.parents')} {plant.parents.map((id) => <ParentLink key={id} farm={farm} id={id} />)}</p>}
    </div>
  )
}

/** What the last sync says of it beside the others; nothing where it was not counted. */
function Worth({ plant }: { readonly plant: PlantID }) {
  const notebook = useNotebook()
  useEffect(() => readAges(notebook), [])
  const worth = worthOf(plant)
  if (!worth) return null
  const { times: factor, best_tenth: best, extra } = worth
  return (
    <div>
      <p><Marked text={t('plant.worth', { times: times(factor.mean), lo: count(times(factor.lo)), hi: count(times(factor.hi)), hundred: inHundred(best) })} /></p>
      {extra && <p class="small">{t('plant.worth.extra', { n: inHundred(extra.mean), lo: inHundred(extra.lo), hi: inHundred(extra.hi) })}</p>}
    </div>
  )
}

function ParentLink({ farm, id }: { readonly farm: Farm; readonly id: PlantID }) {
  return <a href={href('beds', 'plant', id)}>{farm.plants.get(id)?.code ?? id} </a>
}

function Seasons({ farm, plant }: { readonly farm: Farm; readonly plant: PlantID }) {
  const seasons = seasonsOfPlant(farm, plant)
  if (seasons.length === 0) return <p class="small">{t('plant.no_stems')}</p>
  return (
    <table>
      <caption>{t('plant.seasons')}</caption>
      <thead><tr><th scope="col">{t('plant.season')}</th><th scope="col">{t('ages.age')}</th><th scope="col">{t('stems.head')}</th><th scope="col">{t('counted')}</th></tr></thead>
      <tbody>
        {seasons.map((one) => (
          <tr key={one.season}>
            <td>{String(one.season)}</td><td>{count(one.age)}</td><td>{count(one.stems)}</td><td>{one.counted ? t('yes') : t('no')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
