// A spreadsheet whose columns are being matched, and what taking it in would do.

import { useMemo, useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { DegreeUnit } from '../crop/ahead_nouns'
import type { Farm } from '../crop/nouns'
import { count, listed, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { allTold, type ChannelChoice, type ChannelChoices } from './channel_choice'
import { columnName, type DateForm, dateFormsOf } from './cells'
import { type ColumnKey, columnsOf, guessMatch, type Match, missing, type Remembered, rematched, type SheetKind, toRemember } from './columns'
import { planCuts } from './cuts_plan'
import { NewChannels } from './NewChannels'
import { nameKey, type Reading, type SheetPlan } from './plan'
import { planPlants } from './plants_plan'
import { planSales } from './sales_plan'
import type { Sheet } from './sheet'
import { SheetPreview } from './SheetPreview'
import { undoNow } from './undo'
import { planWeatherSheet } from './weather_plan'

interface MatchedSheetProps {
  readonly kind: SheetKind
  readonly file: string
  readonly sheet: Sheet
  readonly doing: Undoable
  readonly onDone: () => void
}

const dateColumns: readonly ColumnKey[] = ['date', 'planted', 'removed', 'counted_from', 'counted_to']

export function MatchedSheet({ kind, file, sheet, doing, onDone }: MatchedSheetProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const kept = `device.columns.${kind}`
  const [match, setMatch] = useState<Match>(() => guessMatch(kind, sheet.headings, notebook.kept<Remembered>(kept)))
  const [chosenForm, setForm] = useState<DateForm | undefined>(undefined)
  const [unit, setUnit] = useState<DegreeUnit>(farm.ahead.warmth.degrees)
  const [channels, setChannels] = useState<ChannelChoices>(new Map())
  const forms = useMemo(() => dateFormsOf(datesOf(sheet, match)), [sheet, match])
  // Where dates can be read in one way alone, or as the year first, nothing is asked.
  const form = chosenForm ?? (forms.length === 1 || forms.includes('ymd') ? forms[0] : forms.length === 0 ? 'ymd' : undefined)
  const lacking = missing(kind, match)
  const planFor = (now: Farm) => planOf(kind, { sheet, match, form: form ?? 'ymd', farm: now, today: today.peek(), newID: newUUID }, unit, channels)
  const plan = useMemo(() => (lacking.length > 0 || form === undefined ? undefined : planFor(farm)), [sheet, match, form, unit, channels, farm.groundVersion, farm.visitsVersion, farm.sales, farm.ahead, today.value])
  const choose = (key: ColumnKey, place: number | undefined) => {
    const next = rematched(match, key, place)
    setMatch(next)
    void notebook.keep(kept, { ...notebook.kept<Remembered>(kept), ...toRemember(kind, sheet.headings, next) })
  }
  const told = allTold(plan?.channels ?? [], channels)
  const tellChannel = (name: string, choice: ChannelChoice | undefined) => setChannels((all) => {
    const others = [...all].filter(([other]) => other !== nameKey(name))
    return new Map(choice ? [...others, [nameKey(name), choice]] : others)
  })
  const write = async () => {
    const stored = await doing.act((now) => {
      const latest = planFor(now)
      return latest.problems.length > 0 || !allTold(latest.channels ?? [], channels) ? t('sheets.changed_since') : { facts: latest.deed.facts, undo: () => ({ facts: undoNow(notebook.farm.peek(), latest.deed.undo), alongside: {} }), said: t('sheets.done', { file }) }
    })
    if (stored) onDone()
  }
  return (
    <div class="dry-run">
      <h3>{file}</h3>
      <p class="small">{t('sheets.read_as', { encoding: t(`sheets.encoding.${sheet.encoding}`), rows: t('sheets.rows', { n: sheet.rows.length }) })}</p>
      <Columns kind={kind} sheet={sheet} match={match} onChoose={choose} />
      {forms.length > 1 && !forms.includes('ymd') && (
        <Choice
          name={t('sheets.dates')} value={form ?? ('' as DateForm)} onChoose={setForm}
          options={[['dmy', t('sheets.dates.dmy')], ['mdy', t('sheets.dates.mdy')]]}
        />
      )}
      {kind === 'weather' && (
        <Choice name={t('weather.file.degrees')} value={unit} onChoose={setUnit} options={[['c', t('weather.settings.celsius')], ['f', t('weather.settings.fahrenheit')]]} />
      )}
      <SheetPreview kind={kind} sheet={sheet} match={match} />
      {lacking.length > 0 && <p class="note warn" role="status">{t('sheets.missing', { columns: listed(lacking.map(columnName)) })}</p>}
      {lacking.length === 0 && form === undefined && <p class="note warn" role="status">{t('sheets.dates.choose')}</p>}
      {plan && <NewChannels names={plan.channels ?? []} choices={channels} onChoose={tellChannel} />}
      {plan && plan.problems.length === 0 && !told && <p class="note warn" role="status">{t('sheets.channels.lacking')}</p>}
      {plan && (plan.problems.length > 0 ? <Problems plan={plan} /> : told && <Would plan={plan} onWrite={() => void write()} />)}
      <button type="button" class="btn quiet" onClick={onDone}>{t('cancel')}</button>
    </div>
  )
}

function planOf(kind: SheetKind, reading: Reading, unit: DegreeUnit, channels: ChannelChoices): SheetPlan {
  switch (kind) {
    case 'plants': return planPlants(reading)
    case 'cuts': return planCuts(reading)
    case 'sales': return planSales(reading, channels)
    case 'weather': return planWeatherSheet(reading, unit)
  }
}

function datesOf({ rows }: Sheet, match: Match): string[] {
  const places = dateColumns.flatMap((key) => match[key] ?? [])
  return rows.flatMap(({ cells }) => places.map((at) => cells[at] ?? ''))
}

interface ColumnsProps {
  readonly kind: SheetKind
  readonly sheet: Sheet
  readonly match: Match
  readonly onChoose: (key: ColumnKey, place: number | undefined) => void
}

function Columns({ kind, sheet: { headings }, match, onChoose }: ColumnsProps) {
  const taken = new Set(Object.values(match))
  const unread = headings.filter((heading, at) => heading !== '' && !taken.has(at))
  return (
    <fieldset class="match">
      <legend>{t('sheets.columns')}</legend>
      <div class="match-fields">
        {columnsOf[kind].map(({ key, required }) => (
          <label key={key} class="field">
            <span>{required ? t('sheets.column.needed', { column: columnName(key) }) : columnName(key)}</span>
            <select value={String(match[key] ?? '')} onChange={({ currentTarget: { value } }) => onChoose(key, value === '' ? undefined : Number(value))}>
              <option value="">{t('sheets.column.none')}</option>
              {headings.map((heading, at) => heading !== '' && <option key={at} value={String(at)}>{heading}</option>)}
            </select>
          </label>
        ))}
      </div>
      {unread.length > 0 && <p class="small">{t('sheets.unread', { columns: listed(unread.slice(0, 12)) })}</p>}
    </fieldset>
  )
}

/** More are shown when they are asked for. */
const most = 12

function Problems({ plan: { problems } }: { readonly plan: SheetPlan }) {
  const [all, setAll] = useState(false)
  return (
    <div class="note stop" role="alert">
      <p><b>{t('sheets.problems', { n: problems.length })}</b></p>
      <ul>
        {problems.slice(0, all ? problems.length : most).map(({ line, column, text }, i) => (
          <li key={i}>{column === undefined ? t('weather.file.line', { line, text }) : t('weather.file.line_of', { line, column: columnName(column), text })}</li>
        ))}
      </ul>
      {!all && problems.length > most && <button type="button" class="btn" onClick={() => setAll(true)}>{t('sheets.all_problems', { n: problems.length })}</button>}
    </div>
  )
}

function Would({ plan: { would, same, deed }, onWrite }: { readonly plan: SheetPlan; readonly onWrite: () => void }) {
  const sentences = <ul>{would.map((sentence) => <li key={sentence}>{sentence}</li>)}</ul>
  if (deed.facts.length === 0) return <div class="note" role="status"><p>{t('sheets.nothing_new', { n: count(same) })}</p>{would.length > 0 && sentences}</div>
  return (
    <div class="note" role="status">
      <p><b>{t('sheets.would')}</b></p>
      {sentences}
      {same > 0 && <p>{t('sheets.same', { n: same })}</p>}
      <p class="small">{t('sheets.dry')}</p>
      <button type="button" class="btn" onClick={onWrite}>{t('sheets.write')}</button>
    </div>
  )
}
