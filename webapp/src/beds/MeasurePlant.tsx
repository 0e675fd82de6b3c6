// Measuring the colour of a plant: of the one that is named, or else of the one whose tag is scanned.

import type { PlantID } from '../crop/nouns'
import { MeasurePage } from '../measuring/MeasurePage'
import { t } from '../messages/messages'
import { ScanView } from '../scan/ScanView'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { goInstead, href } from '../ui/route'

export function MeasurePlant({ id }: { readonly id: PlantID | undefined }) {
  const plant = useNotebook().farm.value.plants.get(id ?? ('' as PlantID))
  const may = useRights()
  if (!may.record) return <NotHere text={t('looks_on')} />
  if (id === undefined) return <ScanView back={href('beds')} onPlant={(scanned) => goInstead('beds', 'measure', scanned.id)} />
  return plant ? <MeasurePage key={id} plant={plant} back={href('beds', 'plant', id)} /> : <NotHere text={t('beds.unknown.text')} />
}

function NotHere({ text }: { readonly text: string }) {
  return (
    <div>
      <PageHead title={t('beds.unknown')} back={href('beds')} />
      <p class="page">{text}</p>
    </div>
  )
}
