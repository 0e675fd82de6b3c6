// One bed: what is planted in it, what is done to it, and its plants.

import { useState } from 'preact/hooks'
import { protectedBehind } from '../crop/lineage'
import type { Bed, Farm, PlantID } from '../crop/nouns'
import { ageIn, seasonOf } from '../crop/season'
import { dayName, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { lengthMeasured } from '../ui/lengths'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { ReentryWarning } from '../ui/ReentryWarning'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { BedEvents } from './BedEvents'
import { BedPictureLink } from './BedPictureLink'
import { BedPlants } from './BedPlants'
import { plantingsIn, standingIn } from './bed'
import { Counting } from './Counting'
import { flaggedIn } from './flag_list'
import { BedPlantingLinks } from './PlantingLinks'
import { stemsByBed } from './stems'

interface BedPageProps {
  readonly bed: Bed
  readonly at?: PlantID
}

export function BedPage({ bed, at }: BedPageProps) {
  const farm = useNotebook().farm.value
  const season = seasonOf(farm.calendar, today.value)
  const plants = standingIn(farm, bed.id, today.value)
  const stems = stemsByBed(farm, season).get(bed.id) ?? 0
  const [problem, setProblem] = useState('')
  const may = useRights()
  return (
    <div class="bed-page">
      <PageHead title={bed.name} back={href('beds')}><span class="aside">{measures(bed, farm)}</span></PageHead>
      <div class="page">
        <ReentryWarning bed={bed.id} />
        <p class="say">{t('bed.say', { n: stems, plants: t('plants', { n: plants.length }), year: String(season) })}</p>
        <BedPictureLink bed={bed} />
        {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
        <BedPlantingLinks bed={bed.id} />
        {!may.manage && <p class="small">{t(may.record ? 'owner_only.bed' : 'looks_on.bed')}</p>}
        <Counting plants={plants} season={season} onProblem={setProblem} />
        <BedEvents bed={bed} season={season} onProblem={setProblem} />
        <Plantings bed={bed} farm={farm} />
        <a class="btn" href={href('beds', 'flags', bed.id)}><Icon name="flag" />{t('flags.link', { n: flaggedIn(farm, bed.id, today.value).length })}</a>
        <h2>{t('bed.plants')}</h2>
        {may.record && plants.length > 0 && <a class="btn" href={href('beds', 'tags', bed.id)}>{t('tags.link')}</a>}
        <BedPlants plants={plants} season={season} onProblem={setProblem} {...(at && { at })} />
      </div>
    </div>
  )
}

function measures(bed: Bed, farm: Farm): string {
  const parts: string[] = []
  if (bed.length > 0 && bed.width > 0) {
    parts.push(t('bed.size', { length: lengthMeasured(bed.length, farm.unit), width: lengthMeasured(bed.width, farm.unit) }))
  }
  if (bed.lines > 0) parts.push(t('bed.lines', { n: bed.lines }))
  return parts.join(' · ')
}

function Plantings({ bed, farm }: { readonly bed: Bed; readonly farm: Farm }) {
  return (
    <section>
      <h2>{t('bed.plantings')}</h2>
      <ul class="rows">
        {plantingsIn(farm, bed.id).map((planting) => {
          const stock = farm.stocks.get(planting.stock)
          const age = ageIn(planting, seasonOf(farm.calendar, today.value))
          return (
            <li key={planting.id} class="planting">
              <b>{stock?.name ?? t('stock.unknown')}</b>
              <span class="small block">
                {[stock?.species, stock?.origin && t(`origin.${stock.origin}`), t('planted', { day: dayName(planting.planted, today.value) })].filter(Boolean).join(' · ')}
              </span>
              <span class="small block">{age >= 1 ? t('season.in_ground', { age }) : t('season.before')}</span>
              {protectedBehind(farm, stock) && <span class="small block protected">{t('stock.protected')}</span>}
            </li>
          )
        })}
      </ul>
    </section>
  )
}
