// Entering a bench total: date, bed, colour class, then a tap a bunch.

import { useEffect, useState } from 'preact/hooks'
import type { Day, Farm } from '../crop/nouns'
import { dayProblem } from '../crop/visit_day'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { CountGrid } from '../ui/CountGrid'
import { bunchSize } from '../ui/device'
import { gradeFeedback, prepareFeedback } from '../ui/feedback'
import { useNotebook } from '../ui/notebook'
import { ChangedSince } from '../ui/taps'
import { today } from '../ui/today'
import { useLengths } from '../ui/use_lengths'
import { WhatIs } from '../ui/WhatIs'
import { failureText } from '../ui/words'
import { BenchAdds } from './BenchAdds'
import { BenchStage } from './BenchStage'
import { ColourChoice } from './ColourChoice'
import type { Bench, BenchAction } from './bench'
import { cellName } from '../ui/cells'
import { type Adds, stemsAdded } from './bunches'

export function BenchEntry({ bench }: { readonly bench: Bench }) {
  const farm = useNotebook().farm.value
  useEffect(prepareFeedback, [])
  const problem = dayProblem(farm, bench.bed.value, bench.date.value, today.value)
  return (
    <section class="bench">
      <WhatIs of="bench"><h2>{t('bench.title')}</h2></WhatIs>
      <div class="bench-choice">
        <label class="field">
          <span>{t('bench.date')}</span>
          <input
            type="date" value={bench.date.value} max={today.value}
            onInput={(event) => bench.chooseDay(event.currentTarget.value as Day)}
          />
        </label>
        <BedChoice bench={bench} farm={farm} />
      </div>
      {problem && <p class="note stop" role="alert">{t(`bench.date.${problem}`)}</p>}
      {bench.otherDay.value !== undefined && <OtherDay bench={bench} day={problem === 'unknown' ? '' : bench.date.value} />}
      {bench.bed.value === '' && <p class="small">{t('bench.no_bed')}</p>}
      {bench.bed.value !== '' && !problem && <Pad bench={bench} farm={farm} />}
    </section>
  )
}

interface OtherDayProps {
  readonly bench: Bench
  /** '' where what the field holds is no day. */
  readonly day: Day | ''
}

function OtherDay({ bench, day }: OtherDayProps) {
  return (
    <div class="note warn undoable">
      <p><b>{day === '' ? t('bench.not_today.unknown') : t('bench.not_today', { day: dayName(day, today.value) })}</b></p>
      <button type="button" class="btn" onClick={() => bench.chooseDay(today.peek())}>{t('bench.to_today')}</button>
    </div>
  )
}

interface PartProps {
  readonly bench: Bench
  readonly farm: Farm
}

function BedChoice({ bench, farm }: PartProps) {
  const beds = [...farm.beds.values()].sort((a, b) => a.name.localeCompare(b.name, undefined, { numeric: true }))
  return (
    <label class="field">
      <span>{t('bench.bed')}</span>
      <select value={bench.bed.value} onChange={(event) => { bench.bed.value = event.currentTarget.value as typeof bench.bed.value }}>
        <option value="">{t('bench.bed.choose')}</option>
        {beds.map((bed) => <option key={bed.id} value={bed.id}>{bed.name}</option>)}
      </select>
    </label>
  )
}

function Pad({ bench, farm }: PartProps) {
  const [adds, setAdds] = useState<Adds>('bunch')
  const inUse = useLengths(bench.counts())
  const stems = stemsAdded(adds, bunchSize.value)
  const last = bench.last()
  const here = last && last.bed === bench.bed.value && last.date === bench.date.value && last.colour === bench.colour.value
  return (
    <>
      <ColourChoice farm={farm} chosen={bench.colour.value} onChoose={(colour) => { bench.colour.value = colour }} />
      <BenchStage bench={bench} />
      <BenchAdds adds={adds} onChoose={setAdds} />
      <CountGrid
        inUse={inUse} unit={farm.unit} stems={(grade, length) => bench.stems(grade, length)}
        last={here ? last : undefined} adds={t('grid.adds', { n: stems })}
        onTap={(grade, length) => void bench.add(grade, length, stems).then((done) => {
          if (done) answer(done, farm)
        })}
      />
      <LastOnBench bench={bench} farm={farm} />
    </>
  )
}

function answer(action: BenchAction, farm: Farm): void {
  gradeFeedback(action.grade)
  announce(actionText(action, farm))
}

function actionText(action: BenchAction, farm: Farm): string {
  const bed = farm.beds.get(action.bed)?.name ?? ''
  return t('bench.did', { n: action.stems, cell: cellName(farm, action), bed })
}

function LastOnBench({ bench, farm }: PartProps) {
  const last = bench.last()
  const failure = bench.failure.value
  const back = () => bench.takeBack().then((action) => {
    if (action) announce(t('row.taken_back', { action: actionText(action, farm) }))
  })
  return (
    <div class="bench-last">
      {failure !== undefined && <p class="note stop" role="alert">{failure instanceof ChangedSince ? t('bench.changed') : failureText(failure)}</p>}
      {failure === undefined && last && <p class="small">{t('row.last', { action: actionText(last, farm) })}</p>}
      {last && <button type="button" class="btn" onClick={() => void back()}>{t('bench.back', { n: last.stems })}</button>}
    </div>
  )
}
