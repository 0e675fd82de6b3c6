// Two cuts of one plant on one day: whether both were cut, or which of them is a repeat.

import { useState } from 'preact/hooks'
import { stemsIn } from '../crop/bed_day'
import { withdrawnFact } from '../crop/facts'
import type { Visit, VisitID } from '../crop/nouns'
import { noRepeats } from '../crop/repeats'
import type { Fact } from '../log/change'
import { momentName, t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { announce } from './announce'
import { useNotebook } from './notebook'
import './repeat.css'
import { useMayCorrect, useRights } from './rights'
import { failureText } from './words'

/** What was answered, and what takes the answer back. */
export interface Answered {
  /** Names it among other answers. */
  readonly id: string
  readonly text: string
  readonly undo: readonly Fact[]
}

interface RepeatQuestionProps {
  readonly ids: readonly VisitID[]
  readonly onAnswered: (answered: Answered) => void
}

export function RepeatQuestion({ ids, onAnswered }: RepeatQuestionProps) {
  const notebook = useNotebook()
  const may = useRights()
  const [problem, setProblem] = useState('')
  const visits = oldestFirst(notebook, ids)
  const all = visits.reduce((sum, { visit }) => sum + stemsIn(visit), 0)
  const answer = async (facts: readonly Fact[], answered: Answered) => {
    try {
      await notebook.record(facts)
      announce(answered.text)
      onAnswered(answered)
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  const none = () => answer(noRepeats(visits.map(({ visit }) => visit.id)), {
    id: visits.map(({ visit }) => visit.id).join(), text: t('repeat.answered.both'), undo: noRepeats(visits.map(({ visit }) => visit.id), false),
  })
  const repeat = ({ visit, text }: Begun) => answer([withdrawnFact('visit', visit.id, true)], {
    id: visit.id, text: t('repeat.answered.one', { what: text }), undo: [withdrawnFact('visit', visit.id, false)],
  })
  if (!may.record) return <p class="small">{t('looks_on.settle')}</p>
  return (
    <div class="repeat-answers">
      <p class="small">{t('repeat.sum', { n: all })}</p>
      <button type="button" class="btn" onClick={() => void none()}>{t(visits.length > 2 ? 'repeat.all' : 'repeat.both')}</button>
      {visits.map((one) => <TakeAway key={one.visit.id} one={one} onRepeat={() => void repeat(one)} />)}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}

interface Begun {
  readonly visit: Visit
  readonly name: string
  /** "Maren, 4 stems, 3 Jun, 14:05". */
  readonly text: string
}

function oldestFirst(notebook: Notebook, ids: readonly VisitID[]): Begun[] {
  const farm = notebook.farm.value
  const found = ids.flatMap((id) => {
    const visit = farm.visits.get(id)
    if (!visit) return []
    const begun = notebook.history('visit', id).find(({ op, field }) => op === 'set' && field === 'purpose')?.at ?? 0
    const name = (visit.person !== '' && farm.people.get(visit.person)?.name) || t('repeat.somebody')
    return [{ visit, name, begun, text: t('repeat.what', { name, n: stemsIn(visit), at: momentName(begun) }) }]
  })
  return found.sort((a, b) => a.begun - b.begun || (a.visit.id < b.visit.id ? -1 : 1))
}

/** A visit is taken away by who may put it right. */
function TakeAway({ one: { visit, name, text }, onRepeat }: { readonly one: Begun; readonly onRepeat: () => void }) {
  if (!useMayCorrect(visit)) return <p class="small">{t('visit.not_yours', { name })}</p>
  return <button type="button" class="btn" onClick={onRepeat}>{t('repeat.one', { what: text })}</button>
}

interface AnsweredNoteProps {
  readonly answered: Answered
  readonly onUndone: () => void
}

/** What was answered, for as long as it can be taken back here. */
export function AnsweredNote({ answered, onUndone }: AnsweredNoteProps) {
  const notebook = useNotebook()
  const [problem, setProblem] = useState('')
  const undo = () => notebook.record(answered.undo).then(onUndone, (reason: unknown) => setProblem(failureText(reason)))
  return (
    <div class="note undoable">
      <p role={problem === '' ? undefined : 'alert'}>{problem || answered.text}</p>
      <button type="button" class="btn" onClick={() => void undo()}>{t('undo')}</button>
    </div>
  )
}
