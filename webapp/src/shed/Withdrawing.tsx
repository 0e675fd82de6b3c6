// Asks once more before devices are withdrawn, with what is then out of reach.

import { useState } from 'preact/hooks'
import type { Answer } from '../join/ask'
import { problemText } from '../join/problem'
import { t } from '../messages/messages'
import { announce } from '../ui/announce'

interface WithdrawingProps {
  readonly sure: string
  readonly keeps: string
  /** What they said that they hold unsent; '' where that is nothing. */
  readonly unsent: string
  readonly yes: string
  /** What is spoken once it is done. */
  readonly done: string
  readonly withdraw: () => Promise<Answer<undefined>>
  readonly onCancel: () => void
  readonly onDone: () => void
}

export function Withdrawing({ sure, keeps, unsent, yes, done, withdraw, onCancel, onDone }: WithdrawingProps) {
  const [busy, setBusy] = useState(false)
  const [problem, setProblem] = useState('')
  const go = async () => {
    if (busy) return
    setBusy(true)
    const answer = await withdraw()
    setBusy(false)
    if (answer.kind !== 'ok') return setProblem(problemText(answer))
    announce(done)
    onDone()
  }
  return (
    <div class="note warn">
      <p>{sure}</p>
      <p>{keeps}</p>
      {unsent !== '' && <p><b>{unsent}</b></p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onCancel}>{t('cancel')}</button>
        <button type="button" class="btn" aria-disabled={busy} onClick={() => void go()}>{yes}</button>
      </div>
    </div>
  )
}
