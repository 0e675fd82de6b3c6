// Cutting a bed back: closes one flush and opens the next.

import { useState } from 'preact/hooks'
import { cutBackFacts } from '../crop/facts'
import type { Bed, Day, Season } from '../crop/nouns'
import { span } from '../crop/season'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import { failureText } from '../ui/words'

interface CutBackProps {
  readonly bed: Bed
  readonly season: Season
  readonly onProblem: (text: string) => void
}

export function CutBack({ bed, season, onProblem }: CutBackProps) {
  const notebook = useNotebook()
  const [asking, setAsking] = useState(false)
  const may = useRights()
  const done = bed.cutBack.get(season)
  const set = (day: Day | '') => {
    setAsking(false)
    notebook.record(cutBackFacts(bed.id, season, day)).then(
      () => announce(day === '' ? t('cutback.undone') : t('cutback.done', { day: dayName(day, today.value) })),
      (reason: unknown) => onProblem(failureText(reason)),
    )
  }
  if (done !== undefined) {
    return (
      <div class="note undoable">
        <p>{t('cutback.done', { day: dayName(done, today.value) })}</p>
        {may.manage && <button type="button" class="btn" onClick={() => set('')}>{t('undo')}</button>}
      </div>
    )
  }
  if (!may.manage) return null
  if (asking) return <DayForm from={span(notebook.farm.value.calendar, season).from} onDay={set} onCancel={() => setAsking(false)} />
  return <button type="button" class="btn" onClick={() => setAsking(true)}>{t('cutback')}</button>
}

interface DayFormProps {
  readonly from: Day
  readonly onDay: (day: Day) => void
  readonly onCancel: () => void
}

function DayForm({ from, onDay, onCancel }: DayFormProps) {
  const [day, setDay] = useState(today.peek())
  const possible = day >= from && day <= today.value
  return (
    <form class="card" onSubmit={(event) => { event.preventDefault(); if (possible) onDay(day) }}>
      <label class="field">
        <span>{t('cutback.day')}</span>
        <input type="date" value={day} min={from} max={today.value} onInput={(event) => setDay(event.currentTarget.value as Day)} />
      </label>
      <p class="small">{t('cutback.note')}</p>
      {!possible && <p class="note stop" role="alert">{t('cutback.problem')}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onCancel}>{t('cancel')}</button>
        <button type="submit" class="btn" disabled={!possible}>{t('cutback.save')}</button>
      </div>
    </form>
  )
}
