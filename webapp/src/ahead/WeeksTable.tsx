// The weeks in numbers: what the picture shows.

import { count, t } from '../messages/messages'
import { rangeOfHalf, rangeOfMost, roughly, weekShort } from '../forecast/forecast_words'
import type { WeekToCome } from '../forecast/to_come'

export function WeeksTable({ weeks }: { readonly weeks: readonly WeekToCome[] }) {
  return (
    <details class="ahead-numbers">
      <summary>{t('ahead.numbers')}</summary>
      <div class="scroll" tabIndex={0} role="region" aria-label={t('ahead.numbers')}>
        <table>
          <caption>{t('ahead.numbers.caption')}</caption>
          <thead>
            <tr>
              <th scope="col">{t('ahead.week')}</th><th scope="col">{t('ahead.middle')}</th><th scope="col">{t('ahead.half')}</th>
              <th scope="col">{t('ahead.most')}</th><th scope="col">{t('ahead.promised')}</th>
            </tr>
          </thead>
          <tbody>
            {weeks.map(({ first, stems, promised }) => (
              <tr key={first}>
                <th scope="row">{weekShort(first)}</th><td>{count(roughly(stems.q50))}</td><td>{rangeOfHalf(stems)}</td><td>{rangeOfMost(stems)}</td><td>{count(promised)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  )
}
