// Settings: the farm's, which sync, and this device's, which do not.

import { useState } from 'preact/hooks'
import { calendarFacts, unitFacts } from '../crop/facts'
import type { Calendar, Farm } from '../crop/nouns'
import { t } from '../messages/messages'
import type { Fact } from '../log/change'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { failureText } from '../ui/words'
import { Choice } from '../ui/Choice'
import { DeviceSettings } from './DeviceSettings'
import { FarmName } from './FarmName'
import { PersonSetting } from './PersonSetting'
import { monthDayName, SeasonStart } from './SeasonStart'

export function Settings() {
  return (
    <>
      <PageHead title={t('settings.title')} back={href('shed')} />
      <div class="page">
        <div class="columns">
          <div><PersonSetting /><DeviceSettings /><LeaveLink /></div>
          <div>
            <FarmSettings />
            <a class="btn quiet" href={href('shed', 'about')}>{t('about.title')}</a>
          </div>
        </div>
      </div>
    </>
  )
}

/** The made-up farm lets whoever sits at its computer in again at once. */
function LeaveLink() {
  const { farm, barred } = useNotebook()
  if (farm.value.madeUp || barred.value !== undefined) return null
  return <a class="btn quiet" href={href('shed', 'leave')}>{t('leave')}</a>
}

function FarmSettings() {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const [problem, setProblem] = useState('')
  const set = (facts: readonly Fact[]) => {
    setProblem('')
    notebook.record(facts).catch((reason: unknown) => setProblem(failureText(reason)))
  }
  if (!useRights().manage) return <FarmFacts farm={farm} />
  return (
    <section class="card">
      <h2>{farm.name === '' ? t('settings.farm.unnamed') : t('settings.farm', { name: farm.name })}</h2>
      <p class="small">{t('settings.farm.shared')}</p>
      <FarmName key={farm.name} farm={farm} onSet={set} />
      <Choice
        name={t('settings.unit')} value={farm.unit} onChoose={(unit) => set(unitFacts(farm, unit))}
        options={[['cm', t('settings.unit.cm')], ['in', t('settings.unit.in')]]}
      />
      <SeasonFields farm={farm} onSet={(calendar) => set(calendarFacts(farm, calendar))} />
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </section>
  )
}

/** The same for who may not change it. */
function FarmFacts({ farm }: { readonly farm: Farm }) {
  const { name, unit, calendar } = farm
  return (
    <section class="card">
      <h2>{name === '' ? t('settings.farm.unnamed') : t('settings.farm', { name })}</h2>
      <dl class="facts">
        <dt>{t('settings.unit')}</dt><dd>{t(`settings.unit.${unit}`)}</dd>
        <dt>{t('settings.season')}</dt><dd>{monthDayName(calendar.start)}</dd>
        <dt>{t('settings.spring')}</dt><dd>{t(calendar.southern ? 'settings.spring.south' : 'settings.spring.north')}</dd>
      </dl>
      <p class="small">{t('owner_only.settings')}</p>
    </section>
  )
}

interface SeasonFieldsProps {
  readonly farm: Farm
  readonly onSet: (calendar: Calendar) => void
}

function SeasonFields({ farm: { calendar }, onSet }: SeasonFieldsProps) {
  return (
    <>
      <SeasonStart start={calendar.start} onSet={(start) => onSet({ ...calendar, start })} />
      <Choice
        name={t('settings.spring')} value={calendar.southern ? 'south' : 'north'}
        onChoose={(half) => onSet({ ...calendar, southern: half === 'south' })}
        options={[['north', t('settings.spring.north')], ['south', t('settings.spring.south')]]}
      />
    </>
  )
}
