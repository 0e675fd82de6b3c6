// A plant's visits, newest first, each open to correction.

import { useState } from 'preact/hooks'
import { type PlantID, untoldLength, type Visit } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { CorrectableCounts } from '../ui/CorrectableCounts'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { VisitPutRight, WithdrawnVisit } from '../ui/VisitPutRight'
import { visitsOf } from './stems'

export function VisitList({ plant }: { readonly plant: PlantID }) {
  const farm = useNotebook().farm.value
  const visits = visitsOf(farm, plant)
  const [away, setAway] = useState<readonly Visit[]>([])
  return (
    <>
      {away.map((visit) => (
        <WithdrawnVisit key={visit.id} visit={visit} onRestored={() => setAway((all) => all.filter((one) => one !== visit))} />
      ))}
      {visits.length === 0 && <p class="small">{t('plant.no_visits')}</p>}
      <ul class="visits">
        {visits.map((visit) => <OneVisit key={visit.id} visit={visit} onWithdrawn={(gone) => setAway((all) => [gone, ...all])} />)}
      </ul>
    </>
  )
}

/** An ungraded count of none, so that a visit whose stems were all taken back can be put right. */
const none = { colour: '', grade: '', length: untoldLength, stems: 0 } as const

interface OneVisitProps {
  readonly visit: Visit
  readonly onWithdrawn: (visit: Visit) => void
}

function OneVisit({ visit, onWithdrawn }: OneVisitProps) {
  const farm = useNotebook().farm.value
  const person = visit.person === '' ? undefined : farm.people.get(visit.person)
  const counts = visit.counts.length > 0 || visit.purpose === 'nothing' ? visit.counts : [none]
  return (
    <li class="card">
      <p>
        <b>{dayName(visit.date, today.value)}</b>
        <span class="small"> {[t(`purpose.${visit.purpose}`), visit.toOrder && t('cut.order'), visit.flush && t(`flush.${visit.flush}`), person?.name].filter(Boolean).join(' · ')}</span>
      </p>
      <CorrectableCounts farm={farm} visit={visit} counts={counts} />
      <VisitPutRight visit={visit} onWithdrawn={onWithdrawn} />
    </li>
  )
}
