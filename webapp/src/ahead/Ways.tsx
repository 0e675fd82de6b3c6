// Where what is ahead is acted on.

import { t } from '../messages/messages'
import { href } from '../ui/route'

export function Ways({ scored }: { readonly scored: boolean }) {
  return (
    <nav class="ahead-ways" aria-label={t('ahead.ways')}>
      <a class="btn main" href={href('ahead', 'ask')}>{t('promise.title')}</a>
      <a class="btn" href={href('ahead', 'asks')}>{t('ahead.way.asks')}</a>
      <a class="btn" href={href('ahead', 'weeks')}>{t('weeks.title')}</a>
      <a class="btn" href={href('ahead', 'tasks')}>{t('season.tasks')}</a>
      <a class="btn" href={href('ahead', 'weather')}>{t('ahead.way.weather')}</a>
      <a class="btn" href={href('ahead', 'division')}>{t('division.title')}</a>
      {scored && <a class="btn" href={href('ahead', 'scores')}>{t('scores.title')}</a>}
    </nav>
  )
}
