// What was just done, with its undo, or why it could not be done.

import { t } from '../messages/messages'
import type { Undoable } from './use_undoable'

export function UndoNote({ done, problem, undo }: Undoable) {
  return (
    <>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      {done && (
        <div class="note undoable">
          <p>{done.said}</p>
          <button type="button" class="btn" onClick={() => void undo()}>{t('undo')}</button>
        </div>
      )}
    </>
  )
}
