// Beds: what stands where, and what it gave. Wide screens show the list beside the page.

import type { BedID, ColourID, PlantID, PlantingID, StockID } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href, route } from '../ui/route'
import { roomy, wide } from '../ui/wide'
import { AgesPage } from './AgesPage'
import { BedChangePage } from './BedChangePage'
import { BedList } from './BedList'
import { BedPage } from './BedPage'
import { BedPicturePage } from './BedPicturePage'
import './beds.css'
import { ClassesPage } from './ClassesPage'
import { ClassPage } from './ClassPage'
import { ColourPage } from './ColourPage'
import { FlagsPage } from './FlagsPage'
import { ListsPage } from './ListsPage'
import { MeasurePlant } from './MeasurePlant'
import { PlanPage } from './PlanPage'
import { isPlantAction, PlantActionPage } from './PlantActionPage'
import { PlantedPage } from './PlantedPage'
import { PlantPage } from './PlantPage'
import { ScanTag } from './ScanTag'
import { StockPage, StocksPage } from './StocksPage'
import { TagsPage } from './TagsPage'
import { TrayPage } from './TrayPage'
import { WithdrawnPlant } from './WithdrawnPlant'

/** Pages by the second part of the address; what is after it names a bed, a plant or a stock. */
export function BedsPlace() {
  const [, page, id] = route.value
  switch (page) {
    case 'ages':
      return <AgesPage />
    case 'colour':
      return <ColourPage />
    case 'lists':
      return <ListsPage />
    case 'classes':
      return <Classes id={id} />
    case 'plan':
      return <PlanPage />
    case 'scan':
      return <ScanTag />
    case 'measure':
      return <MeasurePlant id={id as PlantID | undefined} />
    case 'flags':
      return <Flags bed={id as BedID | undefined} />
    case 'tray':
    case 'new':
    case 'change':
    case 'stocks':
    case 'planted':
      return <Ground page={page} id={id} />
  }
  if (id === undefined) return wide.value ? <div class="beds-two"><BedList /><p class="page small">{t('beds.pick')}</p></div> : <BedList />
  if (page === 'bed' || page === 'tags') return <OneBed id={id as BedID} tags={page === 'tags'} />
  if (page === 'picture') return <OnePicture id={id as BedID} />
  if (page === 'plant') return <OnePlant id={id as PlantID} />
  return isPlantAction(page) ? <PlantActionPage key={`${page} ${id}`} action={page} id={id as PlantID} /> : <Unknown />
}

function Classes({ id }: { readonly id: string | undefined }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  if (id === undefined) return <ClassesPage />
  if (id === 'new') return may.manage ? <ClassPage before={undefined} /> : <OwnersOnly />
  const colour = farm.colours.get(id as ColourID)
  return colour ? <ClassPage key={id} before={colour} /> : <Unknown />
}

function Flags({ bed: id }: { readonly bed: BedID | undefined }) {
  const farm = useNotebook().farm.value
  const bed = id === undefined ? undefined : farm.beds.get(id)
  return id !== undefined && !bed ? <Unknown /> : <FlagsPage bed={bed} />
}

function OneBed({ id, tags }: { readonly id: BedID; readonly tags: boolean }) {
  const bed = useNotebook().farm.value.beds.get(id)
  const asked = route.value[3] ?? ''
  const page = !bed ? <Unknown /> : tags ? <TagsPage key={`${id} ${asked}`} bed={bed} asked={asked as PlantID | PlantingID | ''} /> : <BedPage key={id} bed={bed} />
  return wide.value ? <div class="beds-two"><BedList at={id} />{page}</div> : page
}

function OnePicture({ id }: { readonly id: BedID }) {
  const bed = useNotebook().farm.value.beds.get(id)
  if (!bed) return <Unknown />
  const picture = <BedPicturePage key={id} bed={bed} />
  return roomy.value ? <div class="beds-two with-picture"><BedPage bed={bed} />{picture}</div> : picture
}

function OnePlant({ id }: { readonly id: PlantID }) {
  const farm = useNotebook().farm.value
  const plant = farm.plants.get(id)
  const bed = plant && farm.beds.get(bedOf(farm, plant) ?? ('' as BedID))
  const withdrawn = farm.withdrawn.plants.get(id)
  const page = plant ? <PlantPage key={id} plant={plant} /> : withdrawn ? <WithdrawnPlant key={id} plant={withdrawn} /> : <Unknown />
  return wide.value && bed ? <div class="beds-two even"><BedPage bed={bed} at={id} />{page}</div> : page
}

interface GroundProps {
  readonly page: 'tray' | 'new' | 'change' | 'stocks' | 'planted'
  readonly id: string | undefined
}

/** What is planted where: an owner makes and changes it. */
function Ground({ page, id }: GroundProps) {
  const farm = useNotebook().farm.value
  const may = useRights()
  if (page === 'stocks' && id === undefined) return <StocksPage />
  if (!may.manage) return <OwnersOnly />
  if (page === 'tray') return <TrayPage key={id} asked={id as BedID | undefined} />
  if (page === 'planted') return <PlantedPage />
  if (page === 'new') return <BedChangePage before={undefined} />
  if (page === 'stocks' && id === 'new') return <StockPage before={undefined} />
  const stock = page === 'stocks' ? farm.stocks.get(id as StockID) : undefined
  if (stock) return <StockPage key={stock.id} before={stock} />
  const bed = page === 'change' ? farm.beds.get(id as BedID) : undefined
  return bed ? <BedChangePage key={bed.id} before={bed} /> : <Unknown />
}

function OwnersOnly() {
  return (
    <div>
      <PageHead title={t('place.beds')} back={href('beds')} />
      <p class="page">{t('tray.owner')}</p>
    </div>
  )
}

function Unknown() {
  return (
    <div>
      <PageHead title={t('beds.unknown')} back={href('beds')} />
      <p class="page">{t('beds.unknown.text')}</p>
    </div>
  )
}
