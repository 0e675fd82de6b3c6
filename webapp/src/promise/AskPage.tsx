// Can I promise it? An ask is typed, answered beside all that is promised, and kept with its answer.

import { useEffect, useMemo } from 'preact/hooks'
import type { Ask, AskID } from '../crop/ahead_nouns'
import { daysBetween } from '../crop/day'
import type { Day } from '../crop/nouns'
import type { BunchID } from '../crop/sale_nouns'
import type { Asked } from '../forecast/asking'
import { comingOf, weeksComing } from '../forecast/coming'
import type { Draws } from '../forecast/draws'
import { forecast } from '../forecast/forecast'
import { drawsToShow, whyNoDraws } from '../forecast/unpacked'
import { WeeksBeside } from '../forecast/WeeksBeside'
import { sureInHundred } from '../forecast/forecast_words'
import { dayName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { buyerWritten } from '../ui/lot_words'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { ShedFailed } from '../ui/ShedFailed'
import { today } from '../ui/today'
import { useAfterwards } from '../ui/use_afterwards'
import { AskDo } from './AskDo'
import { askDraft, draftOf, readDraft } from './ask_draft'
import { AskForm } from './AskForm'
import { AskTold } from './AskTold'
import { useAnswer, useAskedAhead, useHelps } from './use_answer'

export function AskPage({ ask }: { readonly ask: AskID | '' }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const live = notebook.sync.value.link === 'live'
  useEffect(() => { void forecast.refresh(notebook, 'recent') }, [live])
  useEffect(() => {
    const kept = ask === '' ? undefined : notebook.farm.peek().ahead.asks.get(ask)
    if (kept) askDraft.value = draftOf(kept)
  }, [ask])
  const answer = forecast.answer.value
  const draws = answer && drawsToShow(answer)
  useAskedAhead(farm, typeof draws === 'object' ? draws : undefined, today.value, askDraft.value)
  const failed = forecast.fetching.value === 'failed'
  return (
    <div class="promise-head">
      <PageHead title={t('promise.title')} back={href('ahead')}>
        <span class="aside whence" role="status">{answer && t('promise.forecast', { day: dayName(answer.asof, today.value) })}</span>
        <a class="ask-all" href={href('ahead', 'asks')}>{t('asks.all')}</a>
      </PageHead>
      <div class="page promise">
        {failed && <ShedFailed onRetry={() => void forecast.refresh(notebook)} />}
        {answer && typeof draws === 'object'
          ? <Asking draws={draws} asof={answer.asof} />
          : <p class="note warn">{t(whyNoDraws(draws, forecast.fetching.value))}</p>}
      </div>
    </div>
  )
}

/** After so many days a forecast is worth a word: what was cut since is not in it. */
const oldAfter = 3

function Asking({ draws, asof }: { readonly draws: Draws; readonly asof: Day }) {
  const farm = useNotebook().farm.value
  const draft = askDraft.value
  const asked = readDraft(draft)
  const age = daysBetween(asof, today.value)
  return (
    <div class="columns">
      <div><AskForm farm={farm} weeks={weeksComing(draws)} lengths={draws.lengths} /></div>
      <div>
        {age > oldAfter && <p class="note warn">{t('promise.forecast.old', { n: age })}</p>}
        {asked ? <Answered draws={draws} asked={asked} /> : <p class="note">{t('promise.for_when')}</p>}
      </div>
    </div>
  )
}

function Answered({ draws, asked }: { readonly draws: Draws; readonly asked: Asked }) {
  const farm = useNotebook().farm.value
  const { bunch } = askDraft.value
  const each = farm.sales.bunches.get(bunch as BunchID)?.stems ?? 1
  const answer = useAnswer(farm, draws, today.value, asked)
  const told = answer?.kind === 'told' ? answer : undefined
  const helps = useHelps(farm, draws, today.value, asked, told, each)
  const drawn = useAfterwards(useMemo(() => told && { told, which: { colours: asked.colours, grade: asked.grade || 'second', length: asked.length } as const }, [told]))
  if (answer?.kind === 'past') return <p class="note stop" role="alert">{t('promise.past')}</p>
  if (answer?.kind === 'beyond') return <p class="note warn">{t('promise.beyond', { day: dayName(answer.last, today.value) })}</p>
  if (!told) return null
  const { first } = comingOf(draws)
  const isBefore = told.day < first && told.most.at(-1) === 0
  const kept = farm.ahead.asks.get(askDraft.value.id)
  return (
    <>
      {isBefore && <p class="note warn">{t('promise.before', { day: dayName(first, today.value) })}</p>}
      {kept?.answer === 'promised' ? <IsPromised ask={kept} /> : <AskTold farm={farm} asked={asked} told={told} bunch={each} helps={helps} drawn={drawn?.told} />}
      {drawn && <WeeksBeside farm={farm} draws={draws} which={drawn.which} today={today.value} day={drawn.told.day} />}
      {drawn && <AskDo farm={farm} asked={asked} told={told} bunch={each} helps={helps ?? []} />}
    </>
  )
}

/** What was promised is among the promises now: the chance of as much again would be no answer to anything. */
function IsPromised({ ask: { offered, chance, buyer } }: { readonly ask: Ask }) {
  const farm = useNotebook().farm.value
  return (
    <>
      <Say text={t('promise.is_promised', { n: offered, buyer: buyer === '' ? t('buyer.unknown') : buyerWritten(farm, buyer) })} />
      {chance > 0 && <p>{t('asks.chance', { n: sureInHundred(chance / 1000) })}</p>}
    </>
  )
}
