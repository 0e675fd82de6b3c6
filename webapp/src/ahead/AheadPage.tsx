// The first page of what is ahead: what is still to come, in a sentence, in a picture of weeks and in numbers, and the ways
// to act on it.

import { useEffect } from 'preact/hooks'
import { drawsToShow } from '../forecast/unpacked'
import { forecast, type ForecastAnswer } from '../forecast/forecast'
import { t } from '../messages/messages'
import { EmptyFarm } from '../ui/EmptyFarm'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { Say } from '../ui/Say'
import { ShedFailed } from '../ui/ShedFailed'
import { FirstCuts } from './FirstCuts'
import { SeasonTiming } from './SeasonTiming'
import { ToComeReport } from './ToComeReport'
import { whence } from './whence'
import { Ways } from './Ways'

export function AheadPage() {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  useEffect(() => { void forecast.refresh(notebook) }, [live])
  const answer = forecast.answer.value
  const failed = forecast.fetching.value === 'failed'
  return (
    <>
      <PageHead title={t('ahead.title')}>
        <span class="aside whence" role="status">{whence(answer)}</span>
      </PageHead>
      <div class="page ahead">
        {notebook.farm.value.beds.size === 0 && <EmptyFarm />}
        {failed && <ShedFailed onRetry={() => void forecast.refresh(notebook)} />}
        {answer ? <Report answer={answer} /> : !failed && <Say text={t(forecast.fetching.value === 'yes' ? 'ahead.fetching' : 'ahead.offline')} />}
        <Ways scored={(answer?.scores.n ?? 0) > 0} />
        {answer && <FirstCuts answer={answer} />}
        {answer && <SeasonTiming answer={answer} />}
      </div>
    </>
  )
}

function Report({ answer }: { readonly answer: ForecastAnswer }) {
  const draws = drawsToShow(answer)
  if (draws === 'unpacking') return <p class="small" role="status">{t('forecast.unpacking')}</p>
  if (draws === 'unreadable') return <p class="note stop" role="alert">{t('ahead.unreadable')}</p>
  return <ToComeReport key={answer.arrival} answer={answer} draws={draws} />
}
