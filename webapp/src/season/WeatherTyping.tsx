// A day's lowest and highest temperature, typed on keys of its own: phones' number keyboards have no minus.

import { useRef, useState } from 'preact/hooks'
import { weatherFacts } from '../crop/ahead_facts'
import { coldest, hottest } from '../crop/ahead_nouns'
import { addDays, parseDay } from '../crop/day'
import type { Day, Farm } from '../crop/nouns'
import { count, dayName, t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable, Undoing } from '../ui/use_undoable'
import { degreesName, plainDegrees, weatherTyped } from './degrees'
import { nextMissing } from './weather_days'

interface WeatherTypingProps {
  readonly day: Day
  readonly onDay: (day: Day) => void
  readonly doing: Undoable
}

type Field = 'min' | 'max'

export function WeatherTyping({ day, onDay, doing }: WeatherTypingProps) {
  const { ahead } = useNotebook().farm.value
  const unit = ahead.warmth.degrees
  const before = ahead.weather.get(day) ?? ahead.weatherWrong.get(day)
  const [typed, setTyped] = useState({ min: before ? plainDegrees(unit, before.min) : '', max: before ? plainDegrees(unit, before.max) : '' })
  const [at, setAt] = useState<Field>('min')
  const [fresh, setFresh] = useState(true)
  const [problem, setProblem] = useState('')
  const inputs = { min: useRef<HTMLInputElement>(null), max: useRef<HTMLInputElement>(null) }
  const goTo = (field: Field) => {
    setAt(field)
    setFresh(true)
    inputs[field].current?.focus()
  }
  const put = (text: string) => {
    setTyped({ ...typed, [at]: text })
    setFresh(false)
    setProblem('')
  }
  const save = async () => {
    const told = weatherTyped(unit, typed.min, typed.max)
    if (typeof told === 'string') return setProblem(problemText(unit, told))
    const next = nextMissing(ahead, day, today.peek())
    const stored = await doing.act((farm) => telling(farm, day, told))
    if (stored && next !== undefined) onDay(next)
  }
  const next = () => (at === 'min' ? goTo('max') : void save())
  return (
    <form class="card weather-typing" noValidate onSubmit={(event) => { event.preventDefault(); next() }}>
      <h2>{t('weather.type')}</h2>
      <DayChoice day={day} onDay={onDay} />
      <div class="two-fields">
        {(['min', 'max'] as const).map((field) => (
          <label key={field} class={`field${field === at ? ' typing' : ''}`}>
            <span>{t(`weather.${field}`)}</span>
            <input
              ref={inputs[field]} inputMode="none" autocomplete="off" value={typed[field]} maxLength={7}
              onFocus={() => { setAt(field); setFresh(true) }}
              onInput={(event) => { setTyped({ ...typed, [field]: event.currentTarget.value }); setFresh(false); setProblem('') }}
            />
          </label>
        ))}
      </div>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
      <Keys text={fresh ? '' : typed[at]} last={at === 'max'} onText={put} onNext={next} />
      {before && <button type="button" class="btn quiet" onClick={() => void doing.act((farm) => telling(farm, day, undefined))}>{t('weather.take_back')}</button>}
    </form>
  )
}

/** Yesterday, today, or the day that is put right. */
function DayChoice({ day, onDay }: Pick<WeatherTypingProps, 'day' | 'onDay'>) {
  const now = today.value
  const yesterday = addDays(now, -1)
  return (
    <div class="choices day-choice">
      <button type="button" class="btn" aria-pressed={day === yesterday} onClick={() => onDay(yesterday)}>{t('weather.yesterday')}</button>
      <button type="button" class="btn" aria-pressed={day === now} onClick={() => onDay(now)}>{t('weather.today')}</button>
      <label class="field">
        <span class="unseen">{t('weather.day')}</span>
        <input type="date" value={day} max={now} onInput={(event) => { const chosen = parseDay(event.currentTarget.value); if (chosen !== undefined && chosen <= now) onDay(chosen) }} />
      </label>
    </div>
  )
}

interface KeysProps {
  /** What a key adds to. */
  readonly text: string
  readonly last: boolean
  readonly onText: (text: string) => void
  readonly onNext: () => void
}

function Keys({ text, last, onText, onNext }: KeysProps) {
  const minus = () => onText(/^[-−]/.test(text) ? text.slice(1) : `−${text}`)
  return (
    <div class="weather-keys" role="group" aria-label={t('weather.keys')}>
      {[1, 2, 3, 4, 5, 6, 7, 8, 9].map((digit) => <button key={digit} type="button" onClick={() => onText(text + digit)}>{count(digit)}</button>)}
      <button type="button" aria-label={t('weather.key.minus')} onClick={minus}>{'−'}</button>
      <button type="button" onClick={() => onText(`${text}0`)}>{count(0)}</button>
      <button type="button" disabled={/[.,]/.test(text)} onClick={() => onText(`${text}.`)}>{'.'}</button>
      <button type="button" aria-label={t('weather.key.delete')} onClick={() => onText(text.slice(0, -1))}><Icon name="back" /></button>
      <button type="button" class="go" onClick={onNext}>{t(last ? 'weather.save' : 'weather.key.next')}</button>
    </div>
  )
}

function problemText(unit: 'c' | 'f', problem: Exclude<ReturnType<typeof weatherTyped>, object>): string {
  return problem === 'slip' ? t('weather.problem.slip', { coldest: degreesName(unit, coldest), hottest: degreesName(unit, hottest) }) : t(`weather.problem.${problem}`)
}

/** Tells a day's weather, or takes it back. */
function telling({ ahead }: Farm, day: Day, told: { readonly min: number; readonly max: number } | undefined): Undoing {
  const unit = ahead.warmth.degrees
  const name = dayName(day, today.peek())
  return {
    facts: weatherFacts(day, told), undo: weatherFacts(day, ahead.weather.get(day) ?? ahead.weatherWrong.get(day)),
    said: told ? t('weather.saved', { day: name, min: degreesName(unit, told.min), max: degreesName(unit, told.max) }) : t('weather.taken_back', { day: name }),
  }
}
