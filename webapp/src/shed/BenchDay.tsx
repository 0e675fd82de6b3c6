// What came over the bench on a day, bed by bed, each number open to correction.

import { useState } from 'preact/hooks'
import type { Day, Farm, Visit } from '../crop/nouns'
import { tallyOf } from '../crop/tally'
import { dayName, t } from '../messages/messages'
import { CorrectableCounts } from '../ui/CorrectableCounts'
import { bunchSize } from '../ui/device'
import { useNotebook } from '../ui/notebook'
import { StemTally } from '../ui/StemTally'
import { today } from '../ui/today'
import { VisitPutRight, WithdrawnVisit } from '../ui/VisitPutRight'
import { BenchRow } from './BenchRow'
import { benchVisits } from './bench'
import { bunched } from './bunches'

export function BenchDay({ date }: { readonly date: Day }) {
  const farm = useNotebook().farm.value
  const visits = benchVisits(farm, date)
  const [away, setAway] = useState<readonly Visit[]>([])
  const counts = visits.flatMap((visit) => visit.counts)
  const stems = counts.reduce((sum, one) => sum + one.stems, 0)
  return (
    <section class="bench-day">
      <h2>{t('bench.day', { day: dayName(date, today.value) })}</h2>
      <p class="small">{visits.length === 0 ? t('bench.day.none') : t('bench.day.stems', { n: stems })}</p>
      {counts.length > 1 && <StemTally farm={farm} tally={tallyOf(counts)} />}
      {away.map((visit) => (
        <WithdrawnVisit key={visit.id} visit={visit} onRestored={() => setAway((all) => all.filter((one) => one !== visit))} />
      ))}
      {visits.map((visit) => <BenchVisit key={visit.id} farm={farm} visit={visit} onWithdrawn={(gone) => setAway((all) => [gone, ...all])} />)}
      <BenchRow date={date} />
    </section>
  )
}

interface BenchVisitProps {
  readonly farm: Farm
  readonly visit: Visit
  readonly onWithdrawn: (visit: Visit) => void
}

function BenchVisit({ farm, visit, onWithdrawn }: BenchVisitProps) {
  const bed = visit.bed === '' ? undefined : farm.beds.get(visit.bed)
  const person = visit.person === '' ? undefined : farm.people.get(visit.person)
  return (
    <div class="card">
      <p><b>{bed?.name ?? t('bed.unknown')}</b> <span class="small">{[visit.stage !== '' && t(`stage.${visit.stage}`), person && t('by', { name: person.name })].filter(Boolean).join(' · ')}</span></p>
      <CorrectableCounts farm={farm} visit={visit} counts={visit.counts} below={bunchText} />
      <VisitPutRight visit={visit} onWithdrawn={onWithdrawn} />
    </div>
  )
}

function bunchText(stems: number): string {
  const { bunches, loose } = bunched(stems, bunchSize.value)
  if (bunches === 0) return t('bench.loose', { n: loose })
  const text = t('bench.bunches', { n: bunches, size: bunchSize.value })
  return loose === 0 ? text : t('bench.and_loose', { bunches: text, loose })
}
