// The pages on which something is done to one plant: divide, move, enter a seedling that came up by it,
// give it another code. An owner's alone.

import type { Plant, PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { DividePage } from './DividePage'
import './lineage.css'
import { MovePage } from './MovePage'
import { NewCodePage } from './NewCodePage'
import { SeedlingPage } from './SeedlingPage'

const pages = { divide: DividePage, move: MovePage, seedling: SeedlingPage, code: NewCodePage } as const
export type PlantAction = keyof typeof pages

export function isPlantAction(page: string | undefined): page is PlantAction {
  return page !== undefined && Object.hasOwn(pages, page)
}

export interface PlantActionProps {
  readonly plant: Plant
}

export function PlantActionPage({ action, id }: { readonly action: PlantAction; readonly id: PlantID }) {
  const plant = useNotebook().farm.value.plants.get(id)
  const may = useRights()
  const Page = pages[action]
  return (
    <div class="plant-action">
      <PageHead title={plant ? t(`lineage.${action}.title`, { code: plant.code }) : t('beds.unknown')} back={plant ? href('beds', 'plant', id) : href('beds')} />
      <div class="page">{plant ? may.manage ? <Page key={id} plant={plant} /> : <p>{t('lineage.owner_only')}</p> : <p>{t('beds.unknown.text')}</p>}</div>
    </div>
  )
}
