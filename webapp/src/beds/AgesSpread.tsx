// What makes plants differ: themselves, the season, the planting, the bed; how uncounted plants lie beside
// counted ones; and in small print how all intervals were found.

import { count, hasMessage, t, tCode } from '../messages/messages'
import { Marked } from '../ui/Say'
import type { Interval, Rest, Spread } from './ages_report'
import { lineAround } from './ages_scale'
import { times, whole } from './ages_sentence'
import { IntervalTable } from './IntervalTable'

const kinds = ['plants', 'seasons', 'plantings', 'beds'] as const

export function spreadSentence({ plants }: Spread): string {
  return t('ages.spread.say', factor(plants))
}

export function SpreadTable({ spread, hundred }: { readonly spread: Spread; readonly hundred: number }) {
  const rows = kinds.map((kind) => ({ key: kind, name: t(`ages.spread.${kind}`), interval: spread[kind] }))
  const line = lineAround([1, ...rows.map(({ interval }) => interval.hi)], 0.5)
  return (
    <>
      <IntervalTable
        caption={t('ages.spread.caption', { hundred })} nameHead={t('ages.spread.what')} valueHead={t('ages.spread.times')}
        groups={[{ rows }]} line={line} mark={1} shown={times}
      />
      <p>{uncountedSentence(spread)}</p>
    </>
  )
}

function uncountedSentence({ uncounted, totals }: Spread): string {
  return totals === 0 ? t('ages.spread.assumed', hundredths(uncounted)) : t('ages.spread.uncounted', { ...hundredths(uncounted), n: totals })
}

function factor({ mean, lo, hi }: Interval) {
  return { times: times(mean), lo: count(times(lo)), hi: count(times(hi)) }
}

/** So near to 1 that a tenth tells nothing. */
function hundredths({ mean, lo, hi }: Interval) {
  const shown = (value: number) => count(whole(value * 100) / 100)
  return { times: shown(mean), lo: shown(lo), hi: shown(hi) }
}

export function SmallPrint({ rests }: { readonly rests: readonly Rest[] }) {
  const lines = rests.map(basisText).filter((line) => line !== '')
  if (lines.length === 0) return null
  return (
    <div class="small">
      <p><b>{t('ages.basis.title')}</b></p>
      <ul>{lines.map((line) => <li key={line}><Marked text={line} /></li>)}</ul>
    </div>
  )
}

/** '' for what a later version says. */
function basisText({ model, basis, draws, worth }: Rest): string {
  const [key, name] = [`ages.basis.${basis}`, `ages.model.${model}`]
  if (!hasMessage(key) || !hasMessage(name)) return ''
  return tCode(key, { model: tCode(name, {}), draws, worth: whole(worth) })
}
