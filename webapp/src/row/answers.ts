// What the phone answers to a record that was stored: a tone, a buzz, and words for a screen reader.

import { useEffect } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { alarmFeedback, gradeFeedback, prepareFeedback } from '../ui/feedback'
import { lengthName } from '../ui/lengths'
import { useNotebook } from '../ui/notebook'
import type { Action } from './journal'
import type { Session } from './session'

export function useAnswers(session: Session): void {
  const notebook = useNotebook()
  const failure = session.failure.value
  useEffect(prepareFeedback, [])
  useEffect(() => {
    session.onStored = ({ action, takenBack }) => {
      const words = actionText(action, notebook.farm.peek())
      announce(takenBack ? t('row.taken_back', { action: words }) : words)
      if (!takenBack) gradeFeedback(action.kind === 'count' ? action.grade : '')
    }
    return () => { session.onStored = () => {} }
  }, [session])
  useEffect(() => {
    if (failure !== undefined) alarmFeedback()
  }, [failure])
}

/** "R4K 7M: 4 stems", "R4K 7M: extra, 50 cm" or "R4K 7M: nothing here". */
export function actionText(action: Action, farm: Farm): string {
  const code = farm.plants.get(action.plant)?.code ?? ''
  if (action.kind === 'nothing') return t('row.did.nothing', { code })
  if (action.grade === '') return t('row.did.stems', { code, n: action.stems })
  return t('row.did.grade', { code, grade: t(`grade.${action.grade}`), length: lengthName(action.length, farm.unit) })
}
