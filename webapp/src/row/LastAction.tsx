// The last action in words, and taking it back.

import { useEffect, useRef } from 'preact/hooks'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'
import { actionText } from './answers'
import type { Action } from './journal'
import type { Session } from './session'

export function LastAction({ session }: { readonly session: Session }) {
  const farm = useNotebook().farm.value
  const last = session.last()
  const failure = session.failure.value
  return (
    <div class="last-action">
      {failure !== undefined
        ? <Failure text={failureText(failure)} />
        : <p class="small">{last ? t('row.last', { action: actionText(last, farm) }) : t('row.last.none')}</p>}
      {last && (
        <button type="button" class="btn" onClick={() => void session.takeBack()}>
          {takeBackText(last, farm.plants.get(last.plant)?.code ?? '')}
        </button>
      )}
    </div>
  )
}

/** Why the last record was not kept, brought into sight whole. */
function Failure({ text }: { readonly text: string }) {
  const note = useRef<HTMLDivElement>(null)
  useEffect(() => note.current?.scrollIntoView({ block: 'nearest' }), [text])
  return <div class="note stop" role="alert" ref={note}><Icon name="warn" /><p>{text}</p></div>
}

/** "Take back 4 from R4K 7M": what the button will undo. */
export function takeBackText(action: Action, code: string): string {
  if (action.kind === 'nothing') return t('row.back.nothing', { code })
  return t('row.back', { n: action.stems, code })
}
