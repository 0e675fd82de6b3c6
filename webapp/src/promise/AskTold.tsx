// The answer: how likely, how many are safe, and what would help.

import type { Farm } from '../crop/nouns'
import { type Asked, chanceOf, type Help, keepChance, nineInTen, safeAt, type Told } from '../forecast/asking'
import { sureInHundred } from '../forecast/forecast_words'
import { dayName, t } from '../messages/messages'
import { useRights } from '../ui/rights'
import { Marked } from '../ui/Say'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'
import { helpText } from './ask_words'
import { ChancePicture } from './ChancePicture'
import { OwnOdds } from './OwnOdds'

interface AskToldProps {
  readonly farm: Farm
  readonly asked: Asked
  readonly told: Told
  readonly bunch: number
  /** undefined while they are tried. */
  readonly helps: readonly Help[] | undefined
  /** What the picture is of: it may come after the answer. */
  readonly drawn: Told | undefined
}

const helpsShown = 4

export function AskTold({ farm, asked, told, bunch, helps, drawn }: AskToldProps) {
  const may = useRights()
  return (
    <section class="ask-told" aria-label={t('promise.answer')}>
      {asked.stems > 0 && <Chance chance={chanceOf(told, asked.stems)} told={told} />}
      {asked.from !== asked.due && <p>{t('promise.best_day', { day: dayName(told.day, today.value) })}</p>}
      <Safe farm={farm} told={told} bunch={bunch} />
      {helps === undefined ? <p class="small" role="status">{t('promise.help.trying')}</p> : helps.length > 0 && (
        <>
          <h2>{t('promise.help')}</h2>
          <ul class="ask-helps">{helps.slice(0, helpsShown).map((help) => <li key={JSON.stringify(help)}><Marked text={helpText(farm, help)} /></li>)}</ul>
        </>
      )}
      {drawn && (drawn.most.at(-1) ?? 0) > 0 && <ChancePicture told={drawn} asked={asked.stems} />}
      {may.manage && <OwnOdds />}
    </section>
  )
}

function Chance({ chance, told }: { readonly chance: number; readonly told: Told }) {
  const n = sureInHundred(chance)
  return (
    <p class="ask-chance">
      <b class="big">{n}</b>{' '}
      <span>
        <b>{t('promise.in_hundred')}</b>
        <span class="small block">{told.promised > 0 ? t('promise.beside', { stems: t('stems', { n: told.promised }) }) : t('promise.beside.none')}</span>
      </span>
    </p>
  )
}

/** At nine in ten, and where the farm goes by other odds, at those too. */
function Safe({ farm, told, bunch }: Pick<AskToldProps, 'farm' | 'told' | 'bunch'>) {
  const own = keepChance(farm.sales.terms)
  const isOther = Math.abs(own - nineInTen) > 0.001
  return (
    <>
      <WhatIs of="safe"><p class="say"><Marked text={t('promise.safe', { n: safeAt(told, nineInTen, bunch) })} /></p></WhatIs>
      {isOther && <p><Marked text={t('promise.safe.own', { n: safeAt(told, own, bunch), chance: String(sureInHundred(own)) })} /></p>}
    </>
  )
}
