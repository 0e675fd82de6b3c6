// All beds: plants standing, counted this season, stems this season.

import { useMemo } from 'preact/hooks'
import type { BedID, Farm } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { seasonOf } from '../crop/season'
import { count, t } from '../messages/messages'
import { EmptyFarm } from '../ui/EmptyFarm'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { bedsByName } from './bed'
import { flaggedIn } from './flag_list'
import { FarmPlantingLinks } from './PlantingLinks'
import { stands, stemsByBed } from './stems'

export function BedList({ at }: { readonly at?: BedID }) {
  const farm = useNotebook().farm.value
  const lines = useMemo(() => bedLines(farm), [farm, today.value])
  return (
    <div class="bed-list">
      <PageHead title={t('place.beds')}>
        <span class="aside">{t('season', { year: String(seasonOf(farm.calendar, today.value)) })}</span>
        <a class="btn" href={href('beds', 'scan')} aria-label={t('scan')}><Icon name="scan" />{t('scan.short')}</a>
      </PageHead>
      <div class="page">
        <FarmPlantingLinks />
        {lines.length === 0 && <EmptyFarm />}
        <a class="btn tall" href={href('beds', 'ages')}><Icon name="ages" />{t('ages.link')}</a>
        <a class="btn tall" href={href('beds', 'colour')}><Icon name="colour" />{t('colours.link')}</a>
        <a class="btn tall" href={href('beds', 'plan')}><Icon name="numbers" />{t('plan.link')}</a>
        <a class="btn tall" href={href('beds', 'flags')}><Icon name="flag" />{t('flags.link', { n: flaggedIn(farm, undefined, today.value).length })}</a>
        <ul class="rows">
          {lines.map((line) => (
            <li key={line.id}>
              <a class="line plain" href={href('beds', 'bed', line.id)} aria-current={line.id === at ? 'page' : undefined}>
                <span><b>{line.name}</b><span class="small block">{t('beds.line', { plants: t('plants', { n: line.standing }), counted: t('beds.counted', { n: line.counted }) })}</span></span>
                <span class="n">{count(line.stems)}<span class="small block">{t('stems.word', { n: line.stems })}</span></span>
              </a>
            </li>
          ))}
        </ul>
      </div>
    </div>
  )
}

interface BedLine {
  readonly id: BedID
  readonly name: string
  standing: number
  counted: number
  readonly stems: number
}

function bedLines(farm: Farm): BedLine[] {
  const season = seasonOf(farm.calendar, today.peek())
  const stems = stemsByBed(farm, season)
  const lines = new Map(bedsByName(farm).map(({ id, name }) =>
    [id, { id, name, standing: 0, counted: 0, stems: stems.get(id) ?? 0 } as BedLine]))
  for (const plant of farm.plants.values()) {
    const bed = bedOf(farm, plant)
    const line = bed && lines.get(bed)
    if (!line || !stands(plant.removed, today.peek())) continue
    line.standing++
    if (plant.counted.has(season)) line.counted++
  }
  return [...lines.values()]
}
