// What the plan takes to be wanted: asks that nobody could meet, which come again, and what the grower wants besides.

import { useState } from 'preact/hooks'
import { comesAgain } from '../crop/ahead_nouns'
import { parseDay } from '../crop/day'
import { mondayOf } from '../crop/due'
import type { ColourID } from '../crop/nouns'
import { unmetByWeek } from '../crop/unmet'
import { weekShort } from '../forecast/forecast_words'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { colourCalled, coloursText } from '../ui/sale_words'
import { today } from '../ui/today'
import { wholeFrom } from '../ui/whole_number'
import type { Wanted } from './division_answer'
import type { Question } from './division_plan'
import { isLeftOut, leaving, withWanted } from './wanted'

interface WantedStemsProps {
  readonly asked: Question
  readonly change: (part: Partial<Pick<Question, 'wanted' | 'leftOut'>>) => void
}

export function WantedStems({ asked: { wanted, leftOut }, change }: WantedStemsProps) {
  const farm = useNotebook().farm.value
  const unmet = unmetByWeek([...farm.ahead.asks.values()].filter((ask) => comesAgain(ask, today.value)))
  const counted = unmet.filter(({ asks }) => !isLeftOut(asks, leftOut))
  const stems = (of: readonly { readonly stems: number }[]) => of.reduce((sum, one) => sum + one.stems, 0)
  return (
    <details class="wanted-stems">
      <summary><span>{t('division.wanted')} <span class="small block">{t('division.wanted.sum', { asked: stems(counted), own: stems(wanted) })}</span></span></summary>
      <p class="small">{unmet.length === 0 ? t('division.wanted.no_asks') : t('division.wanted.asks')}</p>
      {unmet.map((one) => (
        <label key={one.asks.join()} class="switch">
          <input type="checkbox" checked={!isLeftOut(one.asks, leftOut)} onChange={(event) => change({ leftOut: leaving(leftOut, one.asks, !event.currentTarget.checked) })} />
          <span>{t('division.wanted.row', { n: one.stems, week: weekShort(one.week), colours: coloursText(farm, one.colours) })}</span>
        </label>
      ))}
      <h3>{t('division.wanted.own')}</h3>
      <p class="small">{t('division.wanted.own.say')}</p>
      {wanted.length > 0 && (
        <ul class="rows">
          {wanted.map((one) => (
            <li key={`${one.due} ${one.colour}`} class="wanted-row">
              <span>{t('division.wanted.row', { n: one.stems, week: weekShort(one.due), colours: colourCalled(farm, one.colour) })}</span>
              <button type="button" class="btn quiet" aria-label={t('division.wanted.take_away.of', { week: weekShort(one.due), colour: colourCalled(farm, one.colour) })} onClick={() => change({ wanted: wanted.filter((other) => other !== one) })}>{t('division.wanted.take_away')}</button>
            </li>
          ))}
        </ul>
      )}
      <WantedForm onAdd={(one) => change({ wanted: withWanted(wanted, one) })} />
    </details>
  )
}

const mostStems = 1_000_000
const nothing = { colour: '' as ColourID | '', day: '', stems: '' }

function WantedForm({ onAdd }: { readonly onAdd: (one: Wanted) => void }) {
  const farm = useNotebook().farm.value
  const [form, setForm] = useState(nothing)
  const [wrong, setWrong] = useState(false)
  const tell = (part: Partial<typeof nothing>) => {
    setForm({ ...form, ...part })
    setWrong(false)
  }
  const colours = [...farm.colours.values()].sort((a, b) => a.name.localeCompare(b.name))
  const add = () => {
    const day = parseDay(form.day)
    const stems = wholeFrom(form.stems, 1, mostStems)
    if (form.colour === '' || !day || stems === undefined) return setWrong(true)
    onAdd({ colour: form.colour, due: mondayOf(day), stems })
    setForm(nothing)
  }
  return (
    <div class="wanted-form" role="group" aria-label={t('division.wanted.own')}>
      <label class="field">
        <span>{t('division.wanted.colour')}</span>
        <select value={form.colour} onChange={(event) => tell({ colour: event.currentTarget.value as ColourID | '' })}>
          <option value="">{t('division.wanted.colour.none')}</option>
          {colours.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
        </select>
      </label>
      <label class="field">
        <span>{t('division.wanted.day')}</span>
        <input type="date" value={form.day} onInput={(event) => tell({ day: event.currentTarget.value })} />
      </label>
      <label class="field">
        <span>{t('division.wanted.stems')}</span>
        <input inputMode="numeric" autocomplete="off" maxLength={7} value={form.stems} onInput={(event) => tell({ stems: event.currentTarget.value })} />
      </label>
      <button type="button" class="btn" onClick={add}>{t('division.wanted.add')}</button>
      {wrong && <p class="note stop" role="alert">{t('division.wanted.problem')}</p>}
    </div>
  )
}
