// The last action in words, and taking it back.

import { useEffect, useRef } from 'preact/hooks'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'
import { actionText, takeBackText } from './answers'
import type { Session } from './session'

export function LastAction({ session }: { readonly session: Session }) {
  const grid = session.position.value?.mode === 'grid'
  const farm = useNotebook().farm.value
  const last = session.last()
  const failure = session.failure.value
  return (
    <div class="last-action">
      {failure !== undefined
        ? <Failure text={failureText(failure)} />
        : <p class="small">{last ? t('row.last', { action: actionText(last, farm) }) : (grid ? `${t('row.last.none')}. ${t('grid.flick')}` : t('row.last.none'))}</p>}
      {last && (
        <button type="button" class="btn" onClick={() => void session.takeBack()}>
          {takeBackText(last, farm)}
        </button>
      )}
    </div>
  )
}

/** Why the last record was not kept, brought into sight whole. */
export function Failure({ text }: { readonly text: string }) {
  const note = useRef<HTMLDivElement>(null)
  useEffect(() => note.current?.scrollIntoView({ block: 'nearest' }), [text])
  return <div class="note stop" role="alert" ref={note}><Icon name="warn" /><p>{text}</p></div>
}
