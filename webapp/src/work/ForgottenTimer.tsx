// A timer that ran on for longer than anybody works is asked about, and not counted by itself.

import { useState } from 'preact/hooks'
import { mostWorked } from '../crop/money_nouns'
import { momentName, t } from '../messages/messages'
import { parseMinutes, type Timer } from './timer'
import { kindWord } from './work_timer'

interface ForgottenTimerProps {
  readonly timer: Timer
  /** Undefined where it is not to be counted. */
  readonly onAnswer: (minutes: number | undefined) => void
}

export function ForgottenTimer({ timer, onAnswer }: ForgottenTimerProps) {
  const [typed, setTyped] = useState('')
  const [wrong, setWrong] = useState(false)
  const save = (event: Event) => {
    event.preventDefault()
    const minutes = parseMinutes(typed, mostWorked)
    if (minutes === undefined) setWrong(true)
    else onAnswer(minutes)
  }
  return (
    <form class="card timer" noValidate onSubmit={save}>
      <p class="say">{t('work.forgotten', { kind: kindWord(timer.kind), since: momentName(timer.since) })}</p>
      <label class="field">
        <span>{t('work.minutes.really')}</span>
        <input inputMode="text" autocomplete="off" maxLength={8} value={typed} onInput={(event) => { setTyped(event.currentTarget.value); setWrong(false) }} />
      </label>
      {wrong && <p class="note stop" role="alert">{t('work.minutes.wrong')}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={() => onAnswer(undefined)}>{t('work.not_count')}</button>
        <button type="submit" class="btn">{t('work.save')}</button>
      </div>
    </form>
  )
}
