// How good the forecasts were: each past week as it would have been told, what came, and plain rules beside it.

import { useEffect } from 'preact/hooks'
import { forecast, type Scores } from '../forecast/forecast'
import { count, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Marked, Say } from '../ui/Say'
import { ShedFailed } from '../ui/ShedFailed'
import { type Beside, besideRules, tooNarrow } from './scored'
import { ScoresPicture } from './ScoresPicture'
import { ScoresTable } from './ScoresTable'
import { whence } from './whence'

export function ScoresPage() {
  const notebook = useNotebook()
  const live = notebook.sync.value.link === 'live'
  useEffect(() => { void forecast.refresh(notebook) }, [live])
  const answer = forecast.answer.value
  const failed = forecast.fetching.value === 'failed'
  return (
    <>
      <PageHead title={t('scores.title')} back={href('ahead')}>
        <span class="aside whence" role="status">{whence(answer)}</span>
      </PageHead>
      <div class="page ahead">
        {failed && <ShedFailed onRetry={() => void forecast.refresh(notebook)} />}
        {answer ? <Report scores={answer.scores} /> : !failed && <Say text={t(forecast.fetching.value === 'yes' ? 'ahead.fetching' : 'ahead.offline')} />}
      </div>
    </>
  )
}

function Report({ scores }: { readonly scores: Scores }) {
  if (scores.weeks.length === 0) return <Say text={t('scores.none')} />
  const beside = besideRules(scores.weeks)
  return (
    <>
      <Say text={scoresSentence(scores, beside)} />
      {(scores.left ?? 0) > 0 && <p class="small">{t('scores.left', { n: scores.left ?? 0 })}</p>}
      {tooNarrow(scores.inside, scores.n) && <p class="note warn">{t('scores.narrow')}</p>}
      <ScoresPicture weeks={scores.weeks} />
      {beside.length > 1 && <ul class="scores-beside">{beside.slice(1).map((one) => <li key={one.rule}><Marked text={besideText(one)} /></li>)}</ul>}
      <details class="ahead-numbers">
        <summary>{t('scores.what')}</summary>
        <p>{t('scores.what.crps')}</p>
        <p>{t('scores.what.rules')}</p>
        <p>{t('scores.what.honest')}</p>
      </details>
      <ScoresTable weeks={scores.weeks} />
    </>
  )
}

/** The first rule that there is stands in the sentence; the others are listed below it. */
function scoresSentence({ inside, n }: Scores, [first]: readonly Beside[]): string {
  const said = t('scores.say', { n, inside: count(inside) })
  return first ? `${said} ${besideText(first)}` : said
}

function besideText({ rule, weeks, ours, its, smaller }: Beside): string {
  const args = { rule: t(`scores.rule.${rule}`), n: weeks, ours: stems(ours), its: stems(its) }
  if (smaller === undefined) return t('scores.beside.never', args)
  if (smaller === 0) return t('scores.beside.same', args)
  return smaller > 0 ? t('scores.beside.smaller', { ...args, percent: count(smaller) }) : t('scores.beside.larger', { ...args, percent: count(-smaller) })
}

function stems(score: number): string {
  return count(Math.round(score * (score < 10 ? 10 : 1)) / (score < 10 ? 10 : 1))
}
