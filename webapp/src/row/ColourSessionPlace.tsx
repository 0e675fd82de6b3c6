// A colour session of a bed, by address: #/row/measure/BED, its list and its scanner behind that. Without a bed, one
// plant is measured whose tag is scanned.

import type { Bed, BedID, Plant } from '../crop/nouns'
import { t } from '../messages/messages'
import { ScanView } from '../scan/ScanView'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { goInstead, href, route } from '../ui/route'
import './colour-session.css'
import { ColourSession } from './colour_session'
import { SessionCard } from './SessionCard'
import { SessionEnd } from './SessionEnd'
import { SessionList } from './SessionList'
import { SessionPlan } from './SessionPlan'
import { SessionPlant } from './SessionPlant'

export function ColourSessionPlace() {
  const [, , id, page] = route.value
  const bed = useNotebook().farm.value.beds.get((id ?? '') as BedID)
  if (id === undefined) return <ScanView back={href('row')} onPlant={(plant) => goInstead('beds', 'measure', plant.id)} />
  if (!bed) return <PageHead title={t('bed.unknown')} back={href('row')} />
  return <OfBed key={bed.id} bed={bed} page={page} />
}

function OfBed({ bed, page }: { readonly bed: Bed; readonly page: string | undefined }) {
  const session = ColourSession.of(useNotebook())
  const state = session.state(bed.id)
  if (!state || page === 'plan') return <SessionPlan bed={bed} session={session} state={state} />
  if (page === 'plants') return <SessionList bed={bed} session={session} state={state} />
  if (page === 'scan') {
    const onPlant = ({ id }: Plant) => {
      session.goTo(bed.id, id)
      goInstead('row', 'measure', bed.id)
    }
    return <ScanView back={href('row', 'measure', bed.id, 'plants')} onPlant={onPlant} />
  }
  if (state.step === 'card') return <SessionCard bed={bed} session={session} />
  if (state.step === 'end' || state.at === '') return <SessionEnd bed={bed} session={session} state={state} />
  return <SessionPlant bed={bed} session={session} state={state} at={state.at} />
}
