// Marking the plants that were drawn as counted this season, and taking that back.

import { useState } from 'preact/hooks'
import { countedFacts } from '../crop/facts'
import type { Plant, Season } from '../crop/nouns'
import { t } from '../messages/messages'
import type { Fact } from '../log/change'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { failureText } from '../ui/words'
import { windowMarked } from './bed'
import type { AgePlan } from './plan'
import { aimKey, keepPlanSettings, planSettings } from './plan_settings'

interface PlanMarkProps {
  readonly species: string
  readonly season: Season
  readonly ages: readonly AgePlan[]
  readonly drawn: readonly Plant[]
  readonly seed: number
  readonly onAgain: () => void
}

export function PlanMark({ species, season, ages, drawn, seed, onAgain }: PlanMarkProps) {
  const notebook = useNotebook()
  const [marked, setMarked] = useState<readonly Plant[]>([])
  const [problem, setProblem] = useState('')
  const record = async (facts: readonly Fact[], said: string) => {
    try {
      await notebook.record(facts)
    } catch (reason) {
      setProblem(failureText(reason))
      return false
    }
    setProblem('')
    announce(said)
    return true
  }
  const mark = async () => {
    const farm = notebook.farm.peek()
    const facts = drawn.flatMap((plant) => countedFacts(plant.id, season, windowMarked(farm, plant, season, today.value)))
    if (!await record(facts, t('plan.marked', { n: drawn.length }))) return
    setMarked(drawn)
    const { by, stems, aims } = planSettings.peek()
    const hoped = ages.filter((age) => Number.isFinite(age.half)).map((age) => [aimKey(species, season, age.age), by === 'stems' ? stems : age.half] as const)
    await keepPlanSettings(notebook, { aims: { ...aims, ...Object.fromEntries(hoped) } })
  }
  const takeBack = async () => {
    if (await record(marked.flatMap((plant) => countedFacts(plant.id, season, undefined)), t('plan.unmarked', { n: marked.length }))) setMarked([])
  }
  return (
    <section class="mark">
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      {marked.length > 0 && (
        <div class="note undoable" role="status">
          <p>{t('plan.marked', { n: marked.length })}</p>
          <button type="button" class="btn" onClick={() => void takeBack()}>{t('undo')}</button>
        </div>
      )}
      {drawn.length === 0
        ? <p class="small">{t('plan.nothing_more')}</p>
        : (
          <>
            <button type="button" class="btn main" onClick={() => void mark()}>{t('plan.mark', { n: drawn.length })}</button>
            <div class="undoable">
              <p class="small">{t('plan.seed', { seed: String(seed) })}</p>
              <button type="button" class="btn" onClick={onAgain}>{t('choose.again')}</button>
            </div>
          </>
        )}
    </section>
  )
}
