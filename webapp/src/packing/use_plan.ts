// The plan of a day: asked for anew while the link is live, whenever what it rests on changed.

import { useEffect, useMemo, useRef } from 'preact/hooks'
import type { Farm, Day } from '../crop/nouns'
import { momentName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { useAskedAnew } from '../ui/use_asked_anew'
import { dayNow } from './day_now'
import { changesKey, changesSince, type PlanChanges } from './plan_changes'
import { type DayPlan, pathOf, planOf } from './plans'

/** For who reads the plan: asked for on opening and after whatever was recorded. */
export function usePlan(day: Day): DayPlan {
  const plan = planOf(useNotebook(), day)
  const farm = useNotebook().farm.value
  const { answer, fetching } = plan.shed
  useAskedAnew({
    shed: plan.shed, said: `${pathOf(day, plan.wishes())} ${versionOf(farm.sales)} ${versionOf(farm.lots)}`,
    outdated: answer.value === undefined || answer.value.asof !== today.value || fetching.value === 'failed', onOpening: true,
  })
  return plan
}

/** For who packs by it: it stands still while all goes as planned, and while somebody is at it. */
export function usePlanInUse(day: Day, changes: PlanChanges | undefined, busy = false): DayPlan {
  const notebook = useNotebook()
  const plan = planOf(notebook, day)
  const { link, pending, sent } = notebook.sync.value
  const level = link === 'live' && pending === 0 && sent === 0
  const asking = plan.shed.fetching.value === 'yes'
  const wanted = plan.shed.answer.value === undefined ? 'none' : changes ? changesKey(changes) : ''
  // What the shed's answer left as it was is not asked for again and again.
  const askedFor = useRef('')
  useEffect(() => {
    if (wanted === '') askedFor.current = ''
    if (wanted === askedFor.current || busy || asking || !level) return
    askedFor.current = wanted
    void plan.shed.refresh(notebook)
  }, [wanted, busy, asking, level, plan])
  return plan
}

/** What became of the day since its plan; undefined where there is none. */
export function usePlanChanges(day: Day): PlanChanges | undefined {
  const farm = useNotebook().farm.value
  const now = dayNow(farm, day, today.value)
  const plan = planOf(useNotebook(), day)
  const answer = plan.shed.answer.value
  const wishes = plan.wishes()
  return useMemo(() => answer && changesSince(answer, { sales: farm.sales, now, wishes }), [answer, farm.sales, now, pathOf(day, wishes)])
}

const versions = new WeakMap<Farm['sales'] | Farm['lots'], number>()
let newest = 0

/** Another number for another object: what was sold, and the lots, are new objects when something of them changes. */
function versionOf(of: Farm['sales'] | Farm['lots']): number {
  const version = versions.get(of) ?? ++newest
  versions.set(of, version)
  return version
}

/** Of when the plan shown is. */
export function whenPlanned({ shed }: DayPlan): string {
  const at = shed.answer.value?.at
  if (at === undefined) return ''
  return t(shed.fetching.value === 'yes' ? 'packing.at.asking' : 'packing.at', { moment: momentName(at) })
}
