// Each past week in numbers, the last first.

import type { ScoredWeek } from '../forecast/forecast'
import { roughly } from '../forecast/forecast_words'
import { count, dayAndMonth, t } from '../messages/messages'
import { held } from './scored'

export function ScoresTable({ weeks }: { readonly weeks: readonly ScoredWeek[] }) {
  const score = (value: number | null) => (value === null ? t('scores.untold') : count(Math.round(value)))
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={t('scores.table')}>
      <table class="scores-table">
        <caption>{t('scores.table')}</caption>
        <thead>
          <tr>
            <th scope="col">{t('scores.week')}</th><th scope="col">{t('scores.said')}</th><th scope="col">{t('scores.came')}</th>
            <th scope="col">{t('scores.ours')}</th><th scope="col">{t('scores.again')}</th><th scope="col">{t('scores.year')}</th><th scope="col">{t('scores.pooled')}</th>
          </tr>
        </thead>
        <tbody>
          {[...weeks].reverse().map((week) => (
            <tr key={week.first}>
              <th scope="row">{dayAndMonth(week.first)}<span class="small block">{week.first.slice(0, 4)}</span></th>
              <td>{count(roughly(week.mean))}<span class="small block">{count(roughly(week.q05))}–{count(roughly(week.q95))}</span></td>
              <td><b>{count(week.came)}</b>{!held(week) && <span class="small block">{t('scores.outside')}</span>}</td>
              <td>{score(week.crps)}</td><td>{score(week.again)}</td><td>{score(week.year)}</td><td>{score(week.pooled)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
