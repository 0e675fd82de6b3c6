// The end of an entry's form: what is wrong, and saving, leaving or deleting it.

import { t } from '../messages/messages'
import type { EntryProblem } from './forms'

interface EditorButtonsProps {
  readonly problem: EntryProblem | undefined
  readonly onCancel: () => void
  /** The form stays open once something was saved: leaving it gives nothing up. */
  readonly stays?: boolean
  /** Undefined where there is nothing to delete yet. */
  readonly onDelete?: (() => void) | undefined
}

export function EditorButtons({ problem, onCancel, stays = false, onDelete }: EditorButtonsProps) {
  return (
    <>
      {problem && <p class="note stop" role="alert">{t(`money.problem.${problem}`)}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onCancel}>{t(stays ? 'money.leave' : 'cancel')}</button>
        {onDelete && <button type="button" class="btn" onClick={onDelete}>{t('money.delete')}</button>}
        <button type="submit" class="btn save">{t('money.save')}</button>
      </div>
    </>
  )
}
