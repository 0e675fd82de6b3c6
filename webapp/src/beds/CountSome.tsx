// The first choice of counted plants of what was just planted: all where they are few, else some drawn at
// random along the bed; then on to the row.

import { useState } from 'preact/hooks'
import { countedFacts } from '../crop/facts'
import type { Bed, Plant, Season } from '../crop/nouns'
import { span } from '../crop/season'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { go, href } from '../ui/route'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'
import { failureText } from '../ui/words'
import { windowMarked } from './bed'
import { chooseSpread, newSeed } from './choose'

/** As many as a walk has time for; fewer than that are all counted. Common practice, no source. */
const enough = 24

interface CountSomeProps {
  readonly bed: Bed
  /** In walk order. */
  readonly plants: readonly Plant[]
  readonly season: Season
}

export function CountSome({ bed, plants, season }: CountSomeProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [problem, setProblem] = useState('')
  const counted = plants.filter((plant) => plant.counted.has(season)).length
  const starts = span(farm.calendar, season).from
  const begun = starts <= today.value
  const toRow = () => go('row', 'bed', bed.id)
  const count = async () => {
    const chosen = chooseSpread(plants, enough, newSeed())
    const before = notebook.farm.peek()
    try {
      await notebook.record(chosen.flatMap((plant) => countedFacts(plant.id, season, windowMarked(before, plant, season, today.value))))
    } catch (reason) {
      return setProblem(failureText(reason))
    }
    announce(t('counting.chosen', { n: chosen.length }))
    if (begun) toRow()
  }
  if (counted > 0) {
    return (
      <section class="card">
        <p>{begun ? t('count_some.done', { n: counted }) : t('count_some.later', { n: counted, day: dayName(starts, today.value) })}</p>
        {begun && <button type="button" class="btn main" onClick={toRow}>{t('count_some.row')}</button>}
      </section>
    )
  }
  return (
    <section class="card">
      <WhatIs of="counted"><h2>{t('count_some')}</h2></WhatIs>
      <p class="small">{t('count_some.why')}</p>
      {!begun && <p class="note">{t('count_some.not_yet', { year: String(season), day: dayName(starts, today.value) })}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <button type="button" class="btn main" onClick={() => void count()}>
        {plants.length <= enough ? t('count_some.all', { n: plants.length }) : t('count_some.drawn', { n: enough })}
      </button>
      <a class="btn quiet" href={href('beds', 'bed', bed.id)}>{t('count_some.other')}</a>
    </section>
  )
}
