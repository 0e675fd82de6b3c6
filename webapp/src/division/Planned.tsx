// What the shed planned, with what the grower changed of it: the sentence, the money, what would change it, and the plants.

import { useMemo } from 'preact/hooks'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { AgainstRule } from './AgainstRule'
import { Assumptions } from './Assumptions'
import { countsOf, type Decided, decidedOf } from './decided'
import { DecidedBeds } from './DecidedBeds'
import { DivisionPlan } from './division_plan'
import { planSentence } from './division_sentence'
import { HandNote, Notes } from './Notes'
import { PlanWorth } from './PlanWorth'
import { ProtectedStock } from './ProtectedStock'
import { TakePlan } from './TakePlan'

/** How old the plan is, for the head of the page. */
export function PlannedWhen() {
  const answer = DivisionPlan.of(useNotebook()).answer.value
  return <span class="aside whence" role="status">{answer ? t('division.asof', { day: dayName(answer.asof, today.value) }) : ''}</span>
}

export function Planned({ plan }: { readonly plan: DivisionPlan }) {
  const farm = useNotebook().farm.value
  const answer = plan.answer.value
  const decided = useDecided(plan)
  if (!answer) return <div><p>{t('division.none')}</p></div>
  const question = plan.answered ?? plan.question(farm)
  return (
    <div>
      <Say text={planSentence(countsOf(decided), answer, question)} />
      <HandNote answer={answer} decided={decided} />
      <PlanWorth answer={answer} question={question} />
      <Notes notes={answer.notes ?? []} />
      <TakePlan answer={answer} question={question} decided={decided} />
    </div>
  )
}

/** Below both columns, where wide screens have room for several beds beside each other. */
export function PlannedPlants({ plan }: { readonly plan: DivisionPlan }) {
  const farm = useNotebook().farm.value
  const answer = plan.answer.value
  const decided = useDecided(plan)
  return (
    <>
      {answer && <DecidedBeds plan={plan} decided={decided} most={(plan.answered ?? plan.question(farm)).most} />}
      <div class="beside">
        {answer && <AgainstRule actions={answer.actions} />}
        <ProtectedStock />
        <Assumptions />
      </div>
    </>
  )
}

function useDecided(plan: DivisionPlan): readonly Decided[] {
  const farm = useNotebook().farm.value
  const answer = plan.answer.value
  const { hand } = plan
  return useMemo(() => (answer ? decidedOf(farm, answer, hand) : []), [answer, hand, farm.groundVersion])
}
