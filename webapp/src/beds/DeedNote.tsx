// What was just done to a plant, with its undo, or why it could not be done.

import { t } from '../messages/messages'
import type { Doing } from './use_deed'

export function DeedNote({ done, problem, undo }: Doing) {
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
