// When a tray was planted, and which season will be its first.

import { useState } from 'preact/hooks'
import { lastPlantingTimes } from '../crop/planting_out'
import type { Season } from '../crop/nouns'
import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { Marked } from '../ui/Say'
import { today } from '../ui/today'
import type { TrayForm, TrayPlan } from './tray'

interface TrayWhenProps {
  readonly form: TrayForm
  readonly plan: TrayPlan
  readonly onChange: (change: Partial<TrayForm>) => void
}

export function TrayWhen({ form, plan, onChange }: TrayWhenProps) {
  const { calendar } = useNotebook().farm.value
  // Another day is another proposal: what was said of the day before does not hold for it.
  const plantedOn = (planted: string) => onChange({ planted, firstSeason: undefined })
  return (
    <section class="card">
      <h2 id="tray-when">{t('tray.when')}</h2>
      <div class="choices times" role="group" aria-labelledby="tray-when">
        <button type="button" class="btn" aria-pressed={form.planted === today.value} onClick={() => plantedOn(today.value)}>{t('tray.today')}</button>
        {lastPlantingTimes(calendar, today.value).map(({ name, year, day }) => (
          <button key={day} type="button" class="btn" aria-pressed={form.planted === day} onClick={() => plantedOn(day)}>{t(`tray.time.${name}`, { year: String(year) })}</button>
        ))}
      </div>
      <label class="field">
        <span>{t('tray.day')}</span>
        <input type="date" value={form.planted} max={today.value} onInput={(event) => plantedOn(event.currentTarget.value)} />
      </label>
      <FirstSeason plan={plan} southern={calendar.southern} onChoose={(firstSeason) => onChange({ firstSeason: firstSeason === plan.proposed ? undefined : firstSeason })} />
    </section>
  )
}

interface FirstSeasonProps {
  readonly plan: TrayPlan
  readonly southern: boolean
  readonly onChoose: (season: Season) => void
}

function FirstSeason({ plan: { firstSeason, proposed, planted }, southern, onChoose }: FirstSeasonProps) {
  const [open, setOpen] = useState(false)
  const rule = southern ? 'south' : proposed === Number(planted.slice(0, 4)) ? 'same' : 'next'
  const near = [proposed - 1, proposed, proposed + 1] as Season[]
  return (
    <>
      <p role="status"><Marked text={t('tray.season', { year: String(firstSeason) })} /> {firstSeason === proposed ? t(`tray.season.${rule}`) : t('tray.season.yours')}</p>
      {open || firstSeason !== proposed
        ? (
          <>
            <div class="choices" role="group" aria-label={t('tray.season.choose')}>
              {near.map((season) => (
                <button key={season} type="button" class="btn" aria-pressed={season === firstSeason} onClick={() => onChoose(season)}>{String(season)}</button>
              ))}
            </div>
            <div class="note warn">
              <p>{t('tray.season.caution')}</p>
              <a class="btn" href={href('shed', 'settings')}>{t('tray.season.calendar')}</a>
            </div>
          </>
        )
        : <button type="button" class="btn quiet" onClick={() => setOpen(true)}>{t('tray.season.choose')}</button>}
    </>
  )
}
