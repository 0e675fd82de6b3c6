// The plant that a colour session calls out: its camera, and what goes on without a photo.

import { useState } from 'preact/hooks'
import type { Bed, Farm, Plant, PlantID } from '../crop/nouns'
import { bedOf } from '../crop/places'
import { LastKept } from '../measuring/LastKept'
import { Measuring } from '../measuring/Measuring'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { SyncChip } from '../ui/SyncChip'
import { placeName, swatchOf } from '../ui/words'
import { wide } from '../ui/wide'
import type { ColourSession, SessionState } from './colour_session'
import { SessionRows } from './SessionList'
import { whereText } from './session_words'

interface SessionPlantProps {
  readonly bed: Bed
  readonly session: ColourSession
  readonly state: SessionState
  readonly at: PlantID
}

export function SessionPlant({ bed, session, state, at }: SessionPlantProps) {
  const farm = useNotebook().farm.value
  // A tag in the photo may say that it is another plant's: that one is measured, and the session stays where it is.
  const [other, setOther] = useState<{ readonly instead: PlantID; readonly id: PlantID } | undefined>(undefined)
  const called = farm.plants.get(at)
  const plant = (other?.instead === at ? farm.plants.get(other.id) : undefined) ?? called
  const next = () => session.next(bed.id)
  const kept = () => {
    setOther(undefined)
    if (plant?.id === at) next()
  }
  if (!called || !plant) return <Gone onNext={next} />
  return (
    <div class="walk session">
      <PageHead title={t('session.title', { bed: bed.name })} back={href('row', 'measure', bed.id, 'plan')}><SyncChip /></PageHead>
      <div class="walk-main">
        <section class="plant-card" aria-label={t('row.plant', { code: plant.code })}>
          <Head swatch={swatchOf(farm, plant)} size={44} />
          <div>
            <p class="code">{plant.code}</p>
            <p class="small">{[whereText(state), placeOf(farm, bed, plant)].join(' · ')}</p>
          </div>
          <a class="btn session-list" href={href('row', 'measure', bed.id, 'plants')}><Icon name="list" /><span class="unseen">{t('session.list')}</span></a>
        </section>
        <Measuring
          plant={plant} asked={at} walking onPlant={({ id }) => setOther({ instead: at, id })}
          onKept={kept} above={<LastKept />}
          beside={<button type="button" class="btn tall" onClick={next}>{t('session.skip')}</button>}
        />
      </div>
      {wide.value && (
        <aside class="walk-side" aria-label={t('session.list')}>
          <SessionRows bed={bed} session={session} state={state} />
        </aside>
      )}
    </div>
  )
}

/** With the bed's name where it is another. */
function placeOf(farm: Farm, bed: Bed, plant: Plant): string {
  const of = bedOf(farm, plant)
  return of === bed.id || of === undefined ? placeName(plant) : t('session.elsewhere', { bed: farm.beds.get(of)?.name ?? '', place: placeName(plant) })
}

/** It was withdrawn since the session was planned. */
function Gone({ onNext }: { readonly onNext: () => void }) {
  return (
    <>
      <PageHead title={t('beds.unknown')} />
      <div class="page"><button type="button" class="btn main" onClick={onNext}>{t('session.skip')}</button></div>
    </>
  )
}
