// What the phone answers to a record that was stored: a tone, a buzz, and words for a screen reader.

import { useEffect } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { cellName } from '../ui/cells'
import { gradeFeedback, prepareFeedback } from '../ui/feedback'
import { useNotebook } from '../ui/notebook'
import { useAlarm } from './alarm'
import type { Action, CountAction } from './journal'
import type { Session } from './session'

export function useAnswers(session: Session): void {
  const notebook = useNotebook()
  useEffect(prepareFeedback, [])
  useEffect(() => {
    session.onStored = ({ action, takenBack }) => {
      const words = actionText(action, notebook.farm.peek())
      announce(takenBack ? t('row.taken_back', { action: words }) : words)
      if (!takenBack) gradeFeedback(action.kind === 'count' ? action.grade : '')
    }
    return () => { session.onStored = () => {} }
  }, [session])
  useAlarm(session)
}

/** "R4K 7M, 4 stems", "R4K 7M, 5 extra, 50 cm", "R4K 7M, nothing here" or "Gate closed, nothing here of 12 plants". */
export function actionText(action: Action, farm: Farm): string {
  if (action.kind === 'closed') return t('close.did', { bed: farm.beds.get(action.bed)?.name ?? '', n: action.visits.length })
  const code = farm.plants.get(action.plant)?.code ?? ''
  if (action.kind === 'nothing') return t('row.did.nothing', { code })
  if (action.grade === '') return t('row.did.stems', { code, n: action.stems })
  return t('grid.did.row', { code, n: action.stems, cell: cellOf(action, farm) })
}

/** "Take back 4 from R4K 7M": what the button will undo. */
export function takeBackText(action: Action, farm: Farm): string {
  if (action.kind === 'closed') return t('close.back', { n: action.visits.length })
  const code = farm.plants.get(action.plant)?.code ?? ''
  if (action.kind === 'nothing') return t('row.back.nothing', { code })
  if (action.grade === '') return t('row.back', { n: action.stems, code })
  return t('grid.back', { n: action.stems, cell: cellOf(action, farm), code })
}

function cellOf({ grade, length }: CountAction, farm: Farm): string {
  return cellName(farm, { colour: '', grade, length })
}
