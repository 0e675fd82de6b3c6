// What is done to a bed: one tap says what, and the season's list says when and by whom.

import { useState } from 'preact/hooks'
import { withdrawnFact } from '../crop/facts'
import { dayOf } from '../crop/day'
import { type Bed, type BedEvent, type Day, type EventID, type EventKind, eventKinds, type Season } from '../crop/nouns'
import { dayName, momentName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { nowOf } from '../ui/clock'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { failureText } from '../ui/words'
import { type Done, doneIn } from './bed_events'
import { CutBack } from './CutBack'
import { EventForm } from './EventForm'
import { beginning, correcting } from './event_form'

/** What is being told: a kind anew, or an event to be put right. */
type Open = EventKind | 'cut_back' | EventID | ''

interface BedEventsProps {
  readonly bed: Bed
  readonly season: Season
  readonly onProblem: (text: string) => void
}

export function BedEvents({ bed, season, onProblem }: BedEventsProps) {
  const notebook = useNotebook()
  const may = useRights()
  const [open, setOpen] = useState<Open>('')
  const [away, setAway] = useState<BedEvent | undefined>(undefined)
  const today = dayOf(new Date(nowOf(notebook)))
  const done = doneIn(notebook.farm.value, bed, season)
  const close = () => setOpen('')
  const withdraw = async (event: BedEvent, on: boolean) => {
    try {
      await notebook.record([withdrawnFact('event', event.id, on)])
      setAway(on ? event : undefined)
      close()
      announce(t(on ? 'event.withdrawn' : 'event.restored', { what: eventText(event, today) }))
    } catch (reason) {
      onProblem(failureText(reason))
    }
  }
  return (
    <section class="bed-events" aria-label={t('events.title')}>
      <h2>{t('events.title')}</h2>
      {may.record && <Kinds open={open} cutBack={may.manage && !bed.cutBack.has(season)} onOpen={setOpen} />}
      {isKind(open) && <EventForm key={open} bed={bed.id} from={beginning(open, today, nowOf(notebook))} today={today} onDone={close} />}
      {open === 'cut_back' && !bed.cutBack.has(season) && <CutBack bed={bed} season={season} today={today} onDone={close} />}
      {away && (
        <div class="note undoable">
          <p>{t('event.withdrawn', { what: eventText(away, today) })}</p>
          <button type="button" class="btn" onClick={() => void withdraw(away, false)}>{t('undo')}</button>
        </div>
      )}
      {done.length === 0 && <p class="small">{t('events.none')}</p>}
      <ul class="rows">
        {done.map((one) => {
          if (one.kind === 'cut_back') {
            return (
              <li key="cut_back">
                {open === 'cut_back'
                  ? <CutBack bed={bed} season={season} today={today} onDone={close} />
                  : <Line one={one} today={today} {...(may.manage && { onCorrect: () => setOpen('cut_back') })} />}
              </li>
            )
          }
          const { event } = one
          return (
            <li key={event.id}>
              {open === event.id
                ? <EventForm bed={bed.id} from={correcting(event)} today={today} onDone={close} onWithdraw={(gone) => void withdraw(gone, true)} />
                : <Line one={one} today={today} {...(may.record && { onCorrect: () => setOpen(event.id) })} />}
            </li>
          )
        })}
      </ul>
    </section>
  )
}

interface KindsProps {
  readonly open: Open
  /** Whether cutting back can be told. */
  readonly cutBack: boolean
  readonly onOpen: (open: Open) => void
}

function Kinds({ open, cutBack, onOpen }: KindsProps) {
  const all = cutBack ? [...eventKinds.slice(0, -1), 'cut_back' as const, 'other' as const] : eventKinds
  return (
    <div class="choices kinds" role="group" aria-label={t('events.tell')}>
      {all.map((kind) => (
        <button key={kind} type="button" class="btn" aria-pressed={kind === open} onClick={() => onOpen(kind === open ? '' : kind)}>
          {t(`event.kind.${kind}`)}
        </button>
      ))}
    </div>
  )
}

interface LineProps {
  readonly one: Done
  readonly today: Day
  readonly onCorrect?: () => void
}

function Line({ one, today, onCorrect }: LineProps) {
  const { people } = useNotebook().farm.value
  const event = one.kind === 'event' ? one.event : undefined
  const kind = event?.kind ?? 'cut_back'
  const person = event && event.person !== '' ? people.get(event.person)?.name : undefined
  const below = event
    ? [event.what, event.until > 0 && t('event.until', { until: momentName(event.until) }), person].filter(Boolean).join(' · ')
    : t('cutback.closes')
  const said = <span><b>{t(`event.kind.${kind}`)}</b>{below !== '' && <span class="small block">{below}</span>}</span>
  const day = <span class="small">{dayName(one.date, today)}</span>
  if (!onCorrect) return <div class="line plain">{said}{day}</div>
  return (
    <button type="button" class="line plain" onClick={onCorrect}>
      {said}
      <span class="event-day">{day}<span class="small correct">{t('event.correct')}</span></span>
    </button>
  )
}

function eventText(event: BedEvent, today: Day): string {
  return t('event.text', { kind: t(`event.kind.${event.kind}`), day: dayName(event.date, today) })
}

function isKind(open: Open): open is EventKind {
  return (eventKinds as readonly string[]).includes(open)
}
