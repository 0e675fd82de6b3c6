// Between which temperatures warmth counts, by which method, and in which degrees temperatures are shown: the farm's.

import { useState } from 'preact/hooks'
import { warmthFacts } from '../crop/ahead_facts'
import { coldest, type DegreeUnit, hottest, type WarmMethod } from '../crop/ahead_nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import type { Undoable } from '../ui/use_undoable'
import { celsiusOf, degreesName, plainDegrees } from './degrees'
import { parseTemperature } from './weather_sheet'

export function WarmthSettings({ doing }: { readonly doing: Undoable }) {
  const { warmth } = useNotebook().farm.value.ahead
  const may = useRights()
  const [unit, setUnit] = useState<DegreeUnit>(warmth.degrees)
  const [method, setMethod] = useState<WarmMethod>(warmth.method)
  const [typed, setTyped] = useState({ lower: plainDegrees(warmth.degrees, warmth.lower), upper: plainDegrees(warmth.degrees, warmth.upper) })
  const [problem, setProblem] = useState('')
  if (!may.manage) return <p class="small">{t('weather.settings.owner')}</p>
  const inDegrees = (to: DegreeUnit) => {
    const again = (text: string) => { const degrees = parseTemperature(text); return degrees === undefined ? text : plainDegrees(to, celsiusOf(unit, degrees)) }
    setTyped({ lower: again(typed.lower), upper: again(typed.upper) })
    setUnit(to)
  }
  const save = async (event: Event) => {
    event.preventDefault()
    const [lower, upper] = [parseTemperature(typed.lower), parseTemperature(typed.upper)].map((degrees) => (degrees === undefined ? NaN : celsiusOf(unit, degrees)))
    if (!(lower! >= coldest && upper! <= hottest && lower! < upper!)) {
      return setProblem(t('weather.settings.problem', { coldest: degreesName(unit, coldest), hottest: degreesName(unit, hottest) }))
    }
    await doing.act((farm) => ({
      facts: warmthFacts(farm, { degrees: unit, lower: lower!, upper: upper!, method }), undo: warmthFacts(farm, farm.ahead.warmth), said: t('weather.settings.saved'),
    }))
  }
  return (
    <details class="card">
      <summary><h2>{t('weather.settings')}</h2></summary>
      <form class="person-form" noValidate onSubmit={(event) => void save(event)}>
        <Choice name={t('weather.settings.degrees')} value={unit} onChoose={inDegrees} options={[['c', t('weather.settings.celsius')], ['f', t('weather.settings.fahrenheit')]]} />
        <div class="two-fields">
          {(['lower', 'upper'] as const).map((which) => (
            <label key={which} class="field">
              <span>{t(`weather.settings.${which}`)}</span>
              <input value={typed[which]} autocomplete="off" maxLength={7} onInput={(event) => { setTyped({ ...typed, [which]: event.currentTarget.value }); setProblem('') }} />
            </label>
          ))}
        </div>
        <Choice name={t('weather.settings.method')} value={method} onChoose={setMethod} options={[['sine', t('weather.settings.sine')], ['average', t('weather.settings.average')]]} />
        <p class="small">{t('weather.settings.note')}</p>
        {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
        <button type="submit" class="btn">{t('weather.settings.save')}</button>
      </form>
    </details>
  )
}
