// The plan of a day: asked for anew while the link is live, whenever what it rests on changed here.

import type { Farm, Day } from '../crop/nouns'
import { momentName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { useAskedAnew } from '../ui/use_asked_anew'
import { type DayPlan, pathOf, planOf } from './plans'

/** steady: while one packs, the plan stays as it is; it is asked for only where there is none. */
export function usePlan(day: Day, steady = false): DayPlan {
  const plan = planOf(useNotebook(), day)
  const farm = useNotebook().farm.value
  const { answer, fetching } = plan.shed
  const none = answer.value === undefined
  useAskedAnew({
    shed: plan.shed, said: steady ? day : `${pathOf(day, plan.wishes())} ${versionOf(farm.sales)} ${versionOf(farm.lots)}`,
    outdated: none || (!steady && (answer.value?.asof !== today.value || fetching.value === 'failed')), onOpening: !steady || none,
  })
  return plan
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
