// Cutting a bed back: closes one flush and opens the next.

import { useState } from 'preact/hooks'
import { cutBackFacts } from '../crop/facts'
import type { Bed, Day, Season } from '../crop/nouns'
import { span } from '../crop/season'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'

interface CutBackProps {
  readonly bed: Bed
  readonly season: Season
  readonly today: Day
  readonly onDone: () => void
}

/** Tells the day, puts a wrong one right, or takes it back. */
export function CutBack({ bed, season, today, onDone }: CutBackProps) {
  const notebook = useNotebook()
  const before = bed.cutBack.get(season)
  const { from } = span(notebook.farm.value.calendar, season)
  const [day, setDay] = useState<Day>(before ?? today)
  const [problem, setProblem] = useState('')
  const possible = day >= from && day <= today
  const set = (on: Day | '') => {
    notebook.record(cutBackFacts(bed.id, season, on)).then(
      () => {
        announce(on === '' ? t('cutback.undone') : t('cutback.done', { day: dayName(on, today) }))
        onDone()
      },
      (reason: unknown) => setProblem(failureText(reason)),
    )
  }
  return (
    <form class="card" onSubmit={(event) => { event.preventDefault(); if (possible) set(day) }}>
      <p><b>{t('cutback.closes')}</b></p>
      <label class="field">
        <span>{t('cutback.day')}</span>
        <input type="date" value={day} min={from} max={today} onInput={(event) => setDay(event.currentTarget.value as Day)} />
      </label>
      <p class="small">{t('cutback.note')}</p>
      {!possible && <p class="note stop" role="alert">{t('cutback.problem')}</p>}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        {before !== undefined && <button type="button" class="btn" onClick={() => set('')}>{t('cutback.take_back')}</button>}
        <button type="submit" class="btn" disabled={!possible}>{t('cutback.save')}</button>
      </div>
    </form>
  )
}
