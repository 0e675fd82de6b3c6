// What is safe to offer in the coming weeks, as a sheet, a message and a file.

import { useEffect } from 'preact/hooks'
import { keepChance } from '../forecast/asking'
import type { Draws } from '../forecast/draws'
import { forecast } from '../forecast/forecast'
import { inHundred, weekName } from '../forecast/forecast_words'
import { drawsToShow, whyNoDraws } from '../forecast/unpacked'
import { count, dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { Paper, PrintButton } from '../ui/Paper'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { ShedFailed } from '../ui/ShedFailed'
import { today } from '../ui/today'
import { useSafeOffers } from './use_safe_offers'
import { offerRules, type WeekOffers } from './weeks_offers'
import { pricesIn } from './weeks_price'
import { readWeeksSettings, weeksSettings } from './weeks_settings'
import { WeeksChoices } from './WeeksChoices'
import { WeeksPaper } from './WeeksPaper'
import { WeeksSend } from './WeeksSend'
import './weeks.css'

export function WeeksPage() {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  useEffect(() => readWeeksSettings(notebook), [])
  useEffect(() => { void forecast.refresh(notebook) }, [live])
  const answer = forecast.answer.value
  const draws = answer && drawsToShow(answer)
  const failed = forecast.fetching.value === 'failed'
  return (
    <div class="papers-page weeks-page">
      <PageHead title={t('weeks.title')} back={href('ahead')}>
        {answer && <span class="aside whence">{t('promise.forecast', { day: dayName(answer.asof, today.value) })}</span>}
      </PageHead>
      {failed && <div class="page"><ShedFailed onRetry={() => void forecast.refresh(notebook)} /></div>}
      {typeof draws === 'object' ? <Offered draws={draws} /> : <div class="page"><Say text={t(whyNoDraws(draws, forecast.fetching.value))} /></div>}
    </div>
  )
}

function Offered({ draws }: { readonly draws: Draws }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const { weeks, without, channel } = weeksSettings.value
  const rules = offerRules(farm)
  const offered = rules.filter(({ id }) => !without.includes(id))
  const { weeks: told, done } = useSafeOffers(farm, draws, today.value, weeks, offered)
  const priceOf = pricesIn(farm.sales, may.manage ? channel : '')
  const some = done && told.some(({ offers }) => offers.length > 0)
  return (
    <>
      <div class="page">
        {done ? <Say text={weeksSentence(told, inHundred(keepChance(farm.sales.terms)))} /> : <p class="say" role="status">{t('weeks.finding', { n: told.length, of: count(weeks) })}</p>}
        <WeeksChoices rules={rules} />
        {some && <PrintButton />}
        {some && <WeeksSend weeks={told} priceOf={priceOf} />}
        <details class="weeks-how">
          <summary>{t('weeks.how')}</summary>
          <p>{t('weeks.how.together', { chance: String(inHundred(keepChance(farm.sales.terms))) })}</p>
          <p>{t('weeks.how.order')}</p>
          <p>{t('weeks.how.days')} <a href={href('ahead', 'ask')}>{t('promise.title')}</a></p>
        </details>
      </div>
      {some && <Paper><WeeksPaper weeks={told} priceOf={priceOf} /></Paper>}
    </>
  )
}

function weeksSentence(told: readonly WeekOffers[], chance: number): string {
  const stems = told.reduce((sum, { offers }) => offers.reduce((of, one) => of + one.stems, sum), 0)
  const [first, last] = [told[0], told.at(-1)]
  if (first === undefined || last === undefined) return t('weeks.say.beyond')
  const weeks = { n: told.length, days: weekName(first.from, undefined, last.to) }
  return stems === 0 ? t('weeks.say.none', weeks) : t('weeks.say', { ...weeks, stems: t('stems', { n: stems }), chance: String(chance) })
}
