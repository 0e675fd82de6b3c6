// Putting a whole visit right: how it was cut, its day, or that it was recorded by mistake; and its history.

import { useState } from 'preact/hooks'
import { bedOfVisit } from '../crop/bed_day'
import { toOrderFact, visitScope, withdrawnFact } from '../crop/facts'
import type { Day, Visit } from '../crop/nouns'
import { dayProblem } from '../crop/visit_day'
import { dayName, t } from '../messages/messages'
import { announce } from './announce'
import { Choice } from './Choice'
import { factsForDay, saysHowCut } from './correct'
import { useNotebook } from './notebook'
import { useMayCorrect, useRights } from './rights'
import { today } from './today'
import { VisitHistory } from './VisitHistory'
import { failureText } from './words'

interface VisitPutRightProps {
  readonly visit: Visit
  /** Called once the visit is withdrawn and therefore gone from the farm. */
  readonly onWithdrawn: (visit: Visit) => void
}

export function VisitPutRight({ visit, onWithdrawn }: VisitPutRightProps) {
  const notebook = useNotebook()
  const may = useRights()
  const mayCorrect = useMayCorrect(visit)
  const [open, setOpen] = useState(false)
  const [asking, setAsking] = useState(false)
  const [problem, setProblem] = useState('')
  const withdraw = () => {
    notebook.record([withdrawnFact('visit', visit.id, true, visitScope(visit.purpose))]).then(
      () => {
        announce(t('visit.withdrawn', { day: dayName(visit.date, today.peek()) }))
        onWithdrawn(visit)
      },
      (reason: unknown) => setProblem(failureText(reason)),
    )
  }
  const by = (visit.person !== '' && notebook.farm.value.people.get(visit.person)?.name) || t('visit.somebody')
  return (
    <div class="visit-put-right">
      {may.record && !mayCorrect && <p class="small">{t('visit.not_yours', { name: by })}</p>}
      <details onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>{t(mayCorrect ? 'history.and_right' : 'history')}</summary>
        {open && <VisitHistory visit={visit} />}
        {open && mayCorrect && saysHowCut(visit) && <HowCut visit={visit} />}
        {open && mayCorrect && !asking && (
          <div class="buttons">
            <button type="button" class="btn" onClick={() => setAsking(true)}>{t('visit.day')}</button>
            <button type="button" class="btn" onClick={withdraw}>{t('visit.mistake')}</button>
          </div>
        )}
        {open && asking && <DayForm visit={visit} onDone={() => setAsking(false)} />}
        {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      </details>
    </div>
  )
}

/** Clean or to order, as it should have been said. */
function HowCut({ visit }: { readonly visit: Visit }) {
  const notebook = useNotebook()
  const [failure, setFailure] = useState('')
  const choose = (how: 'clean' | 'order') => {
    notebook.record([toOrderFact(visit.id, how === 'order')]).then(
      () => {
        setFailure('')
        announce(t(`history.cut.${how}`))
      },
      (reason: unknown) => setFailure(failureText(reason)),
    )
  }
  return (
    <div>
      <Choice
        name={t('visit.cut')} value={visit.toOrder ? 'order' : 'clean'} onChoose={choose}
        options={[['clean', t('cut.clean')], ['order', t('cut.order')]]}
      />
      <p class="small">{t('visit.cut.note')}</p>
      {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
    </div>
  )
}

interface DayFormProps {
  readonly visit: Visit
  readonly onDone: () => void
}

function DayForm({ visit, onDone }: DayFormProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [day, setDay] = useState<Day>(visit.date)
  const [failure, setFailure] = useState('')
  const wrong = dayProblem(farm, bedOfVisit(farm, visit) ?? '', day, today.value)
  const problem = failure || (wrong && t(`visit.day.${wrong}`))
  const save = async (event: Event) => {
    event.preventDefault()
    if (wrong) return
    try {
      await notebook.record(factsForDay(farm, visit, day))
      announce(t('visit.day.saved', { day: dayName(day, today.peek()) }))
      onDone()
    } catch (reason) {
      setFailure(failureText(reason))
    }
  }
  return (
    <form noValidate onSubmit={(event) => void save(event)}>
      <label class="field">
        <span>{t('visit.day.right')}</span>
        <input type="date" value={day} max={today.value} onInput={(event) => setDay(event.currentTarget.value as Day)} />
      </label>
      {problem && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        <button type="submit" class="btn" disabled={wrong !== undefined}>{t('visit.day.save')}</button>
      </div>
    </form>
  )
}

interface WithdrawnVisitProps {
  readonly visit: Visit
  readonly onRestored: () => void
}

/** That a visit was withdrawn, for as long as it can be brought back here. */
export function WithdrawnVisit({ visit, onRestored }: WithdrawnVisitProps) {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const restore = () => {
    notebook.record([withdrawnFact('visit', visit.id, false, visitScope(visit.purpose))])
      .then(onRestored, (reason: unknown) => setProblem(failureText(reason)))
  }
  return (
    <div class="note undoable">
      <p role={problem === '' ? undefined : 'alert'}>{problem || t('visit.withdrawn', { day: dayName(visit.date, today.value) })}</p>
      <button type="button" class="btn" onClick={restore}>{t('undo')}</button>
    </div>
  )
}
