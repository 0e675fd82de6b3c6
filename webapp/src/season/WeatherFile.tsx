// Weather from a spreadsheet: read on the device, shown before anything is written, written in one operation; and saved as one.

import { useState } from 'preact/hooks'
import type { DegreeUnit } from '../crop/ahead_nouns'
import type { Farm } from '../crop/nouns'
import { count, dayName, daysName, listed, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { download, fileWord } from '../ui/download'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { degreesName } from './degrees'
import { type FileProblem, planWeather, takingIn, weatherCsv, type WeatherPlan } from './weather_plan'
import { readWeatherFile, type WeatherSheet } from './weather_sheet'

interface Picked {
  readonly name: string
  readonly sheet: WeatherSheet
}

export function WeatherFile({ doing }: { readonly doing: Undoable }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const { warmth: { degrees }, weather } = farm.ahead
  const [picked, setPicked] = useState<Picked | 'unreadable' | undefined>(undefined)
  const pick = async (input: HTMLInputElement) => {
    const file = input.files?.[0]
    if (!file) return
    const bytes = await file.arrayBuffer().catch(() => undefined)
    setPicked(bytes ? { name: file.name, sheet: readWeatherFile(new Uint8Array(bytes)) } : 'unreadable')
    input.value = '' // the same file can be chosen again, once it was put right
  }
  const save = () => download(new Blob([weatherCsv(weather, degrees)], { type: 'text/csv' }), `${fileWord(farm.name, 'corymb')}-weather-${degrees}.csv`)
  return (
    <section class="card weather-file">
      <h2>{t('weather.file')}</h2>
      {may.record && (
        <>
          <p class="small">{t('weather.file.text')} {may.manage && <a href={href('shed', 'files')}>{t('weather.file.matched')}</a>}</p>
          {/* The browser's own control would speak the browser's language. */}
          <label class="btn">
            {t('weather.file.pick')}
            <input type="file" accept=".csv,.txt,text/csv,text/plain" class="unseen" onChange={(event) => void pick(event.currentTarget)} />
          </label>
        </>
      )}
      {picked === 'unreadable' && <p class="note stop" role="alert">{t('weather.file.unreadable')}</p>}
      {picked !== undefined && picked !== 'unreadable' && <DryRun key={picked.name} farm={farm} picked={picked} doing={doing} onDone={() => setPicked(undefined)} />}
      {weather.size > 0 && <button type="button" class="btn" onClick={save}><Icon name="save" />{t('weather.file.save')}</button>}
    </section>
  )
}

interface DryRunProps {
  readonly farm: Farm
  readonly picked: Picked
  readonly doing: Undoable
  readonly onDone: () => void
}

/** What taking the file in would do. */
function DryRun({ farm, picked: { name, sheet }, doing, onDone }: DryRunProps) {
  const [unit, setUnit] = useState<DegreeUnit>(farm.ahead.warmth.degrees)
  const plan = planWeather(sheet, unit, farm.ahead, today.value)
  const write = async () => {
    const stored = await doing.act((now) => {
      const latest = planWeather(sheet, unit, now.ahead, today.peek())
      return { ...takingIn(latest), said: t('weather.file.written', { n: latest.added.length + latest.changed.length }) }
    })
    if (stored) onDone()
  }
  return (
    <div class="dry-run">
      <Choice
        name={t('weather.file.degrees')} value={unit} onChoose={setUnit}
        options={[['c', t('weather.settings.celsius')], ['f', t('weather.settings.fahrenheit')]]}
      />
      {plan.problems.length > 0 ? <Problems file={name} problems={plan.problems} unit={unit} /> : <Findings file={name} farm={farm} sheet={sheet} plan={plan} onWrite={() => void write()} />}
      <button type="button" class="btn quiet" onClick={onDone}>{t('cancel')}</button>
    </div>
  )
}

/** More are not read at once. */
const most = 12

function Problems({ file, problems, unit }: { readonly file: string; readonly problems: readonly FileProblem[]; readonly unit: DegreeUnit }) {
  return (
    <div class="note stop" role="alert">
      <p>{t('weather.file.refused', { file, n: problems.length })}</p>
      <ul>{problems.slice(0, most).map((one, i) => <li key={i}>{problemText(one, unit)}</li>)}</ul>
      {problems.length > most && <p>{t('weather.file.and_more', { n: problems.length - most })}</p>}
    </div>
  )
}

function problemText({ line, column, kind, found, other }: FileProblem, unit: DegreeUnit): string {
  const text = kind === 'unit'
    ? t('weather.wrong.unit', { found, unit: unit === 'c' ? '°C' : '°F' })
    : t(`weather.wrong.${kind}`, { found: found.slice(0, 60), other })
  return column === '' ? t('weather.file.line', { line, text }) : t('weather.file.line_of', { line, column, text })
}

interface FindingsProps {
  readonly file: string
  readonly farm: Farm
  readonly sheet: WeatherSheet
  readonly plan: WeatherPlan
  readonly onWrite: () => void
}

function Findings({ file, farm, sheet: { days, empty, outOfOrder, ignored }, plan: { added, changed, same }, onWrite }: FindingsProps) {
  const unit = farm.ahead.warmth.degrees
  const range = ({ min, max }: { readonly min: number; readonly max: number }) => t('weather.days.range', { min: degreesName(unit, min), max: degreesName(unit, max) })
  const n = added.length + changed.length
  const [first, last] = [days[0], days.at(-1)]
  return (
    <div class="note" role="status">
      {first && last && <p><b>{t('weather.file.days', { file, n: days.length, days: daysSaid(first.date, last.date) })}</b></p>}
      <p>{t('weather.file.counts', { added: count(added.length), changed: count(changed.length), same: count(same) })}</p>
      {changed.length > 0 && (
        <ul>{changed.slice(0, most).map(({ day, before, after }) => <li key={day}>{t('weather.file.change', { day: dayName(day, today.value), before: range(before), after: range(after) })}</li>)}</ul>
      )}
      {changed.length > most && <p>{t('weather.file.and_more', { n: changed.length - most })}</p>}
      {empty.length > 0 && <p>{t('weather.file.empty', { n: empty.length, days: listed(empty.slice(0, most)) })}</p>}
      {outOfOrder && <p>{t('weather.file.order')}</p>}
      {ignored.length > 0 && <p>{t('weather.file.ignored', { columns: listed(ignored) })}</p>}
      {n > 0 && <p class="small">{t('weather.file.tenths')} {t('weather.file.dry')}</p>}
      {n > 0 ? <button type="button" class="btn" onClick={onWrite}>{t('weather.file.write', { n })}</button> : <p>{t('weather.file.nothing_new')}</p>}
    </div>
  )
}

/** With their years, where they are not this one's. */
function daysSaid(first: string, last: string): string {
  const year = today.value.slice(0, 4)
  const [from, to] = [first as typeof today.value, last as typeof today.value]
  return first.startsWith(year) && last.startsWith(year) ? daysName(from, to) : `${dayName(from, today.value)} – ${dayName(to, today.value)}`
}
