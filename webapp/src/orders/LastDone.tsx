// What was done last, and the way to take it back.

import { useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'
import { lastDone, undoLast } from './deeds'

export function LastDone() {
  const notebook = useNotebook()
  const [failure, setFailure] = useState('')
  const done = lastDone.value
  if (!done) return null
  const undo = () => { undoLast(notebook, t('orders.undone')).catch((reason: unknown) => setFailure(failureText(reason))) }
  return (
    <div class="page orders last-done">
      <div class="note undoable">
        <p>{done.said}</p>
        {done.undo.length > 0 && <button type="button" class="btn" onClick={undo}>{t('undo')}</button>}
      </div>
      {failure !== '' && <p class="note stop" role="alert">{failure}</p>}
    </div>
  )
}
