// What is known of a plant's own colour: whether it keeps it, its heads over the seasons, and measuring another.

import type { Farm, Plant } from '../crop/nouns'
import { seasonOf } from '../crop/season'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { answer, fetching, refreshColours } from './colours'
import './plant_colour.css'
import { driftMind, driftSentence, type PlantDrift, plantDrift } from './plant_drift'
import { PlantHeads } from './PlantHeads'
import { PlantReference } from './PlantReference'
import { ShedFailed } from '../ui/ShedFailed'
import { coloursWhence } from './use_colours'
import { type PlantReport, usePlantReport } from './use_plant_report'

export function PlantColour({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const may = useRights()
  const report = usePlantReport(farm, plant)
  const stands = plant.removed === ''
  const measured = (farm.readingsOf.get(plant.id)?.size ?? 0) > 0
  return (
    <section class="plant-colour">
      <h2>{t('plant.colour')}</h2>
      {measured ? <Drift farm={farm} plant={plant} report={report} /> : <p class="small">{t('plant.colour.none')}</p>}
      <PlantHeads farm={farm} plant={plant} report={report.told?.report} />
      {may.record && stands && <a class="btn tall" href={href('beds', 'measure', plant.id)}><Icon name="camera" />{t('measuring.measure')}</a>}
      {stands && <PlantReference farm={farm} plant={plant} mayChange={may.manage} />}
    </section>
  )
}

interface DriftProps {
  readonly farm: Farm
  readonly plant: Plant
  readonly report: PlantReport
}

/** What is judged of it, and how old that is. */
function Drift({ farm, plant, report: { told, newer, gone, changed } }: DriftProps) {
  const notebook = useNotebook()
  // A crop that the answer has nothing of came after it.
  const drift: PlantDrift = answer.value && !told ? { kind: 'unknown' } : plantDrift(told?.report, plant.id, seasonOf(farm.calendar, today.value))
  const mind = driftMind(drift)
  return (
    <>
      <Say text={driftSentence(drift)} />
      {mind !== '' && <p class="small">{mind}</p>}
      <p class="small" role="status">{coloursWhence() || (fetching.value === 'yes' && t('colours.fetching'))}</p>
      {fetching.value === 'failed' && <ShedFailed onRetry={() => void refreshColours(notebook)} />}
      {newer > 0 && <p class="note warn"><Icon name="warn" /> {t('colours.newer', { n: newer })}</p>}
      {newer === 0 && gone > 0 && <p class="note warn"><Icon name="warn" /> {t('colours.gone', { n: gone })}</p>}
      {changed && <p class="note warn"><Icon name="warn" /> {t('plant.drift.changed')}</p>}
    </>
  )
}
