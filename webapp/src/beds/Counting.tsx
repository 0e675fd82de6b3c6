// Which plants of a bed are counted this season: chosen at random, and ended when it is over.

import { useState } from 'preact/hooks'
import { countedFacts } from '../crop/facts'
import type { Plant, Season, Window } from '../crop/nouns'
import { span } from '../crop/season'
import { t } from '../messages/messages'
import type { Fact } from '../log/change'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { endedWindow, stillCounted, windowFrom } from './bed'
import { RandomChoice } from './RandomChoice'

interface CountingProps {
  readonly plants: readonly Plant[]
  readonly season: Season
  readonly onProblem: (text: string) => void
}

export function Counting({ plants, season, onProblem }: CountingProps) {
  const notebook = useNotebook()
  const counted = plants.filter((plant) => plant.counted.has(season))
  const uncounted = plants.filter((plant) => !plant.counted.has(season))
  const going = stillCounted(counted, season, today.value)
  const record = (facts: readonly Fact[], said: string) => {
    notebook.record(facts).then(() => announce(said), (reason: unknown) => onProblem(failureText(reason)))
  }
  const choose = (chosen: readonly Plant[]) => {
    const window = windowFrom(notebook.farm.peek(), season, today.value)
    record(chosen.flatMap((plant) => countedFacts(plant.id, season, window)), t('counting.chosen', { n: chosen.length }))
  }
  const setWindows = (of: readonly Plant[], made: (window: Window) => Window | undefined, said: string) =>
    record(of.flatMap((plant) => {
      const window = plant.counted.get(season)
      return window ? countedFacts(plant.id, season, made(window)) : []
    }), said)
  if (!useRights().manage) return <p><b>{t('counting', { n: counted.length })}</b></p>
  const end = span(notebook.farm.value.calendar, season).to
  return (
    <section class="card">
      <h2>{t('counting', { n: counted.length })}</h2>
      {counted.length === 0 && <p class="small">{t('counting.none')}</p>}
      {uncounted.length > 0 && <a href={href('beds', 'plan')}>{t('plan.link')}</a>}
      {uncounted.length > 0 && <RandomChoice plants={uncounted} onChoose={choose} />}
      {going.length > 0 && <EndCounting n={going.length} onEnd={() => setWindows(going, (w) => endedWindow(w, today.value), t('counting.ended'))} />}
      {counted.length > 0 && going.length === 0 && today.value < end && (
        <div class="undoable">
          <p>{t('counting.over')}</p>
          <button type="button" class="btn" onClick={() => setWindows(counted, (w) => ({ from: w.from, to: end }), t('counting.reopened'))}>{t('counting.reopen')}</button>
        </div>
      )}
    </section>
  )
}

function EndCounting({ n, onEnd }: { readonly n: number; readonly onEnd: () => void }) {
  const [asking, setAsking] = useState(false)
  if (!asking) return <button type="button" class="btn" onClick={() => setAsking(true)}>{t('counting.end')}</button>
  return (
    <div class="note warn">
      <p>{t('counting.end.sure', { n })}</p>
      <div class="buttons">
        <button type="button" class="btn" onClick={() => setAsking(false)}>{t('cancel')}</button>
        <button type="button" class="btn" onClick={() => { setAsking(false); onEnd() }}>{t('counting.end.yes')}</button>
      </div>
    </div>
  )
}
