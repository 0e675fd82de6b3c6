// One entry of what was done to a bed: told anew, or put right.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { eventCorrected, eventFacts } from '../crop/facts'
import { type BedEvent, type BedID, type Day, type EventID, eventKinds } from '../crop/nouns'
import { count, momentName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { nowOf } from '../ui/clock'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { failureText } from '../ui/words'
import { type Draft, eventOf, usualHours } from './event_form'

interface EventFormProps {
  readonly bed: BedID
  readonly from: Draft
  readonly today: Day
  readonly onDone: () => void
  /** Takes away what is corrected. */
  readonly onWithdraw?: (event: BedEvent) => void
}

export function EventForm({ bed, from, today, onDone, onWithdraw }: EventFormProps) {
  const notebook = useNotebook()
  const [draft, setDraft] = useState(from)
  const [problem, setProblem] = useState('')
  const tell = (part: Partial<Draft>) => {
    setDraft({ ...draft, ...part })
    setProblem('')
  }
  const { before } = draft
  const save = async (submitted: Event) => {
    submitted.preventDefault()
    const made = before ?? { id: newUUID() as EventID, bed, person: notebook.person.peek() }
    const told = eventOf(draft, made, today, nowOf(notebook))
    if ('problem' in told) return setProblem(t(`event.problem.${told.problem}`))
    try {
      await notebook.record(before ? eventCorrected(before, told.event) : eventFacts(told.event))
      announce(t('event.saved', { kind: t(`event.kind.${told.event.kind}`) }))
      onDone()
    } catch (reason) {
      setProblem(failureText(reason))
    }
  }
  return (
    <form class="card event-form" noValidate onSubmit={(event) => void save(event)}>
      {before
        ? <KindChoice draft={draft} onTell={tell} />
        : <p><b>{t(`event.kind.${draft.kind}`)}</b></p>}
      <label class="field">
        <span>{t('event.date')}</span>
        <input type="date" value={draft.date} max={today} onInput={(event) => tell({ date: event.currentTarget.value })} />
      </label>
      <label class="field">
        <span>{t(draft.kind === 'other' ? 'event.what.other' : 'event.what')}</span>
        <input value={draft.what} maxLength={200} autocomplete="off" onInput={(event) => tell({ what: event.currentTarget.value })} />
      </label>
      {draft.kind === 'sprayed' && <SprayFields draft={draft} onTell={tell} />}
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <div class="buttons">
        <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>
        {before && onWithdraw && <button type="button" class="btn" onClick={() => onWithdraw(before)}>{t('event.withdraw')}</button>}
        <button type="submit" class="btn">{t('event.save')}</button>
      </div>
    </form>
  )
}

interface PartProps {
  readonly draft: Draft
  readonly onTell: (part: Partial<Draft>) => void
}

function KindChoice({ draft, onTell }: PartProps) {
  return (
    <fieldset class="field">
      <legend>{t('event.kind')}</legend>
      <div class="choices">
        {eventKinds.map((kind) => (
          <button key={kind} type="button" class="btn" aria-pressed={kind === draft.kind} onClick={() => onTell({ kind })}>
            {t(`event.kind.${kind}`)}
          </button>
        ))}
      </div>
    </fieldset>
  )
}

/** What the label of a spray says, read off it by the person: nothing is guessed. */
function SprayFields({ draft, onTell }: PartProps) {
  const { interval, before, date } = draft
  const quick: readonly string[] = usualHours.map(String)
  const typed = interval === 'none' || interval === 'kept' ? '' : interval
  const keeps = before !== undefined && before.until > 0 && before.date === date
  return (
    <>
      <p class="note warn"><Icon name="warn" /> {t('spray.law')}</p>
      <fieldset class="field">
        <legend>{t('spray.interval')}</legend>
        <div class="choices hours">
          {keeps && (
            <button type="button" class="btn whole" aria-pressed={interval === 'kept'} onClick={() => onTell({ interval: 'kept' })}>
              {t('spray.kept', { until: momentName(before.until) })}
            </button>
          )}
          {usualHours.map((hours) => (
            <button key={hours} type="button" class="btn" aria-pressed={interval === String(hours)} onClick={() => onTell({ interval: String(hours) })}>
              {t('spray.hours', { n: count(hours) })}
            </button>
          ))}
          <button type="button" class="btn whole" aria-pressed={interval === 'none'} onClick={() => onTell({ interval: 'none' })}>{t('spray.none')}</button>
        </div>
      </fieldset>
      <div class="two-fields">
        <label class="field">
          <span>{t('spray.other')}</span>
          <input inputMode="numeric" value={quick.includes(typed) ? '' : typed} onInput={(event) => onTell({ interval: event.currentTarget.value.trim() })} />
        </label>
        {interval !== 'none' && interval !== 'kept' && (
          <label class="field">
            <span>{t('spray.at')}</span>
            <input type="time" value={draft.at} onInput={(event) => onTell({ at: event.currentTarget.value })} />
          </label>
        )}
      </div>
    </>
  )
}
