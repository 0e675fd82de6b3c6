// This season's degree-days, and how many days that is ahead of earlier seasons or behind.

import { formerSums, warmthLead } from '../crop/first_cuts'
import type { Day, Farm } from '../crop/nouns'
import { addDays } from '../crop/day'
import { seasonOf, springOf } from '../crop/season'
import { leadOver, type NoLead, seasonSum, type SeasonSum } from '../crop/season_warmth'
import { dayAndMonth, decimal, t } from '../messages/messages'
import { Say } from '../ui/Say'
import { degreesName, warmthShown } from './degrees'
import { WarmthChart } from './WarmthChart'

/** Earlier seasons shown, the latest: more lines are no picture. */
const mostSeasons = 5

export function WarmthSum({ farm, today }: { readonly farm: Farm; readonly today: Day }) {
  const { ahead: { warmth, weather }, calendar } = farm
  const season = seasonOf(calendar, today)
  if (warmth.upper <= warmth.lower) return <p class="note stop">{t('weather.thresholds.wrong')}</p>
  const now = seasonSum(weather, calendar, season, warmth)
  const formers = formerSums({ weather, warmth }, calendar, season).slice(0, mostSeasons)
  return (
    <section class="card warmth">
      <h2>{t('weather.sum')}</h2>
      {now ? <Sum farm={farm} now={now} lead={warmthLead(farm, season)} hasFormer={formers.length > 0} /> : <p>{t('weather.sum.none')}</p>}
      {(now || formers.length > 0) && <WarmthChart farm={farm} now={now} formers={formers} today={today} />}
      <ul class="seasons small">
        {now && formers.map((former) => <li key={former.season}><b>{String(former.season)}</b>{': '}{leadText(leadOver(now, former))}</li>)}
      </ul>
      <p class="small">{t('weather.sum.base', { lower: degreesName(warmth.degrees, warmth.lower), upper: degreesName(warmth.degrees, warmth.upper), method: t(`weather.method.${warmth.method}`) })}</p>
    </section>
  )
}

interface SumProps {
  readonly farm: Farm
  readonly now: SeasonSum
  readonly lead: number | undefined
  readonly hasFormer: boolean
}

function Sum({ farm: { ahead: { warmth }, calendar }, now, lead, hasFormer }: SumProps) {
  const spring = springOf(calendar, now.season)
  const day = (after: number) => dayAndMonth(addDays(spring, after))
  const estimated = now.days.filter(({ told }) => !told).length
  const sum = warmthShown(warmth.degrees, now.days.at(-1)?.sum ?? 0)
  return (
    <>
      <Say text={t('weather.sum.say', { n: decimal(sum, 0), from: day(now.from), to: day(now.from + now.days.length - 1) })} />
      <p><b>{lead === undefined ? (hasFormer ? '' : t('weather.lead.none')) : lead === 0 ? t('weather.lead.level') : t(lead > 0 ? 'weather.lead.ahead' : 'weather.lead.behind', { n: Math.abs(lead) })}</b></p>
      {estimated > 0 && <p class="small">{t('weather.estimated', { n: estimated })}</p>}
    </>
  )
}

function leadText(lead: number | NoLead): string {
  if (typeof lead === 'string') return t(`weather.season.${lead}`)
  return lead === 0 ? t('weather.season.level') : t(lead > 0 ? 'weather.season.ahead' : 'weather.season.behind', { n: Math.abs(lead) })
}
