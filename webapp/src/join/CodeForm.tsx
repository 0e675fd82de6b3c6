// The code of an invitation, large enough for one thumb, and what this device is to be called.

import { useEffect, useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { isWhole, misread, normalCode, readable } from './code'
import { labelHere } from './label'

/** As an invitation's code is read; the first owner's is longer, and smaller to be seen whole. */
const shortCode = 'ACDE-FGHJ'.length

interface CodeFormProps {
  /** What the invitation's link brought. */
  readonly brought: string
  readonly busy: boolean
  readonly problem: string
  readonly onSend: (code: string, label: string) => void
}

export function CodeForm({ brought, busy, problem, onSend }: CodeFormProps) {
  const [typed, setTyped] = useState<string | undefined>(undefined)
  const [named, setNamed] = useState<string | undefined>(undefined)
  // A link that is followed while the page is open goes before what was typed until then.
  useEffect(() => setTyped(undefined), [brought])
  const text = typed ?? readable(brought)
  const wrong = misread(normalCode(text))
  const label = named ?? labelHere()
  const ready = isWhole(normalCode(text)) && label.trim() !== '' && !busy
  const send = (event: Event) => {
    event.preventDefault()
    if (ready) onSend(normalCode(text), label.trim())
  }
  return (
    <form class="join-form" onSubmit={send}>
      <label class="field">
        <span>{t('join.code')}</span>
        <input
          class={`join-code ${text.length > shortCode ? 'long' : ''}`} value={text} placeholder={'····-····'} maxLength={40} autocapitalize="characters"
          autocomplete="off" autocorrect="off" spellcheck={false} enterKeyHint="go"
          onInput={(event) => setTyped(event.currentTarget.value)}
        />
      </label>
      {wrong !== '' && <p class="note warn" role="status">{t('join.code.misread', { letter: wrong })}</p>}
      <p class="small">{brought !== '' && typed === undefined ? t('join.code.brought') : t('join.code.where')}</p>
      <label class="field">
        <span>{t('join.label')}</span>
        <input value={label} maxLength={40} autocomplete="off" onInput={(event) => setNamed(event.currentTarget.value)} />
      </label>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <button type="submit" class="btn main" disabled={!ready}>{busy ? t('join.busy') : t('join.send')}</button>
    </form>
  )
}
