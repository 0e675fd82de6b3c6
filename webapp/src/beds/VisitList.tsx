// A plant's visits, newest first, each count open to correction.

import { type PlantID, untoldLength, type Visit } from '../crop/nouns'
import { dayName, t } from '../messages/messages'
import { CorrectableCounts } from '../ui/CorrectableCounts'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { visitsOf } from './stems'

export function VisitList({ plant }: { readonly plant: PlantID }) {
  const farm = useNotebook().farm.value
  const visits = visitsOf(farm, plant)
  if (visits.length === 0) return <p class="small">{t('plant.no_visits')}</p>
  return <ul class="visits">{visits.map((visit) => <OneVisit key={visit.id} visit={visit} />)}</ul>
}

/** An ungraded count of none, so that a visit whose stems were all taken back can be put right. */
const none = { colour: '', grade: '', length: untoldLength, stems: 0 } as const

function OneVisit({ visit }: { readonly visit: Visit }) {
  const farm = useNotebook().farm.value
  const person = visit.person === '' ? undefined : farm.people.get(visit.person)
  const counts = visit.counts.length > 0 || visit.purpose === 'nothing' ? visit.counts : [none]
  return (
    <li class="card">
      <p>
        <b>{dayName(visit.date, today.value)}</b>
        <span class="small"> {[t(`purpose.${visit.purpose}`), visit.flush && t(`flush.${visit.flush}`), person?.name].filter(Boolean).join(' · ')}</span>
      </p>
      <CorrectableCounts farm={farm} visit={visit} counts={counts} />
    </li>
  )
}
