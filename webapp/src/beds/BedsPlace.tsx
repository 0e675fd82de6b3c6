// Beds: what stands where, and what it gave. Wide screens show the list beside the page.

import type { BedID, PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href, route } from '../ui/route'
import { wide } from '../ui/wide'
import { AgesPage } from './AgesPage'
import { BedList } from './BedList'
import { BedPage } from './BedPage'
import './beds.css'
import { PlanPage } from './PlanPage'
import { PlantPage } from './PlantPage'

export function BedsPlace() {
  const [, page, id] = route.value
  if (page === 'ages') return <AgesPage />
  if (page === 'plan') return <PlanPage />
  if (page === 'bed' && id !== undefined) return <OneBed id={id as BedID} />
  if (page === 'plant' && id !== undefined) return <OnePlant id={id as PlantID} />
  return wide.value ? <div class="beds-two"><BedList /><p class="page small">{t('beds.pick')}</p></div> : <BedList />
}

function OneBed({ id }: { readonly id: BedID }) {
  const bed = useNotebook().farm.value.beds.get(id)
  const page = bed ? <BedPage key={id} bed={bed} /> : <Unknown />
  return wide.value ? <div class="beds-two"><BedList at={id} />{page}</div> : page
}

function OnePlant({ id }: { readonly id: PlantID }) {
  const farm = useNotebook().farm.value
  const plant = farm.plants.get(id)
  const bed = plant && farm.beds.get(farm.plantings.get(plant.planting)?.bed ?? ('' as BedID))
  const page = plant ? <PlantPage key={id} plant={plant} /> : <Unknown />
  return wide.value && bed ? <div class="beds-two even"><BedPage bed={bed} at={id} />{page}</div> : page
}

function Unknown() {
  return (
    <div>
      <PageHead title={t('beds.unknown')} back={href('beds')} />
      <p class="page">{t('beds.unknown.text')}</p>
    </div>
  )
}
