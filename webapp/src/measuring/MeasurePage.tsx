// Measuring one plant's colour, on a page of its own: afterwards another photo of it, or back.

import { useState } from 'preact/hooks'
import type { Plant, PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { LastKept } from './LastKept'
import { Measuring } from './Measuring'

interface MeasurePageProps {
  readonly plant: Plant
  readonly back: string
}

export function MeasurePage({ plant: opened, back }: MeasurePageProps) {
  const farm = useNotebook().farm.value
  // A photo may turn out to be another plant's than the one that was opened.
  const [other, setOther] = useState<PlantID | undefined>(undefined)
  const [done, setDone] = useState(false)
  const plant = (other && farm.plants.get(other)) ?? opened
  return (
    <div class="measure-page">
      <PageHead title={t('measuring.title', { code: plant.code })} back={back} />
      <div class="page">
        {done
          ? <Done plant={plant} onMore={() => setDone(false)} />
          : <Measuring plant={plant} asked={opened.id} onKept={() => setDone(true)} onPlant={({ id }) => setOther(id)} above={<LastKept />} />}
      </div>
    </div>
  )
}

function Done({ plant, onMore }: { readonly plant: Plant; readonly onMore: () => void }) {
  return (
    <div class="reading measure-done">
      <Say text={t('measuring.done.text', { code: plant.code })} />
      <LastKept onTakenBack={onMore} />
      <div class="act half">
        <button type="button" class="btn tall" onClick={onMore}>{t('measuring.more')}</button>
        <a class="btn main" href={href('beds', 'plant', plant.id)}>{t('measuring.to_plant')}</a>
      </div>
    </div>
  )
}
