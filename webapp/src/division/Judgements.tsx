// How right the plans of past seasons were.

import { useMemo } from 'preact/hooks'
import { count, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { Say } from '../ui/Say'
import { type Judged, judgedPlans, sumOf } from './judged'

export function Judgements() {
  const farm = useNotebook().farm.value
  const plans = useMemo(() => judgedPlans(farm, today.value), [farm.ahead, farm.groundVersion, farm.visitsVersion, today.value])
  return <>{plans.map((one) => <Judgement key={one.plan.season} judged={one} />)}</>
}

function Judgement({ judged: { plan, season, runs, planned, counted } }: { readonly judged: Judged }) {
  const { expected, gave, within } = sumOf(counted)
  const outside = counted.filter(({ is }) => is !== 'within')
  return (
    <section class="card">
      <h2>{t('division.judged', { season: String(plan.season) })}</h2>
      {counted.length === 0 ? <p>{t('division.judged.none', { season: String(season) })}</p> : (
        <>
          <Say text={t(runs ? 'division.judged.so_far' : 'division.judged.say', { season: String(season), n: counted.length, expected: count(Math.round(expected)), gave: count(gave) })} />
          {!runs && <p>{t('division.judged.within', { n: within, all: count(counted.length) })}</p>}
          <p class="small">{t('division.judged.counted', { n: counted.length, all: count(planned) })}</p>
          {!runs && outside.length > 0 && (
            <details>
              <summary>{t('division.judged.outside', { n: outside.length })}</summary>
              <ul class="reasons">
                {outside.map(({ plant, expected: { lo, hi }, gave: stems }) => <li key={plant.id}>{t('division.judged.plant', { code: plant.code, gave: count(stems), lo: count(lo), hi: count(hi) })}</li>)}
              </ul>
            </details>
          )}
        </>
      )}
    </section>
  )
}
