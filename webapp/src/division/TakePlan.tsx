// Taking the plan: from then on the row has it as a list to walk by.

import { useState } from 'preact/hooks'
import { dayName, t } from '../messages/messages'
import type { Fact } from '../log/change'
import type { Notebook } from '../sync/notebook'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import type { IntentID } from '../crop/ahead_nouns'
import type { Decided } from './decided'
import type { DivisionAnswer } from './division_answer'
import type { Question } from './division_plan'
import { takePlan } from './take_plan'

interface TakePlanProps {
  readonly answer: DivisionAnswer
  readonly question: Question
  readonly decided: readonly Decided[]
}

export function TakePlan({ answer, question, decided }: TakePlanProps) {
  const notebook = useNotebook()
  const doing = useUndoable()
  const [storing, setStoring] = useState(false)
  const taken = notebook.farm.value.ahead.plans.get(answer.season)
  const take = async () => {
    setStoring(true)
    await doing.act((now) => {
      const deed = takePlan(now, { answer, question, decided, day: today.peek(), person: notebook.person.peek() })
      return { facts: deed.facts, undo: () => ({ facts: stillOpen(notebook, deed.undo), alongside: {} }), said: t('division.taken', { n: decided.length }) }
    })
    setStoring(false)
  }
  return (
    <section class="take">
      <UndoNote {...doing} />
      {taken && doing.done === undefined && <p class="small">{t('division.taken_on', { day: dayName(taken.made, today.value) })}</p>}
      {!doing.done && <button type="button" class="btn main" disabled={storing || decided.length === 0} onClick={() => void take()}>{t(taken ? 'division.take_instead' : 'division.take')}</button>}
      {taken && <a class="btn tall" href={href('row', 'divide')}><Icon name="list" />{t('division.walk')}</a>}
    </section>
  )
}

/** What was done in the row since is not taken back with the plan. */
function stillOpen(notebook: Notebook, undo: readonly Fact[]): Fact[] {
  const { intents } = notebook.farm.peek().ahead
  return undo.filter(({ type, id }) => type !== 'intent' || (intents.get(id as IntentID)?.done ?? '') === '')
}
