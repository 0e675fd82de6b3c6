// How plants last: of those that begin a season in the ground, how many begin the next.

import { count, t } from '../messages/messages'
import type { Survival } from './ages_report'
import { inHundred, noteText, rangeText } from './ages_sentence'
import { IntervalTable } from './IntervalTable'

/** Of the first season that was followed; common practice where none was. */
export function survivalSentence({ ages }: Survival): string {
  const told = ages.find((one) => one.planting_seasons > 0)
  if (!told) return t('ages.survival.practice')
  return t('ages.survival.say', { age: told.age, n: inHundred(told.p), lo: inHundred(told.lo), hi: inHundred(told.hi) })
}

/** Lost of those that were followed, or that nobody was. */
function lostText({ lost, at_start: stood }: Survival['ages'][number]): string {
  return stood === 0 ? t('ages.survival.lost.nobody') : t('ages.survival.lost.of', { lost, stood })
}

export function SurvivalTable({ survival, hundred }: { readonly survival: Survival; readonly hundred: number }) {
  const rows = survival.ages.map((one) => ({
    key: String(one.age), name: count(one.age), interval: { mean: one.p, lo: one.lo, hi: one.hi },
    outer: { lo: one.new_lo, hi: one.new_hi },
    more: [rangeText(inHundred(one.new_lo), inHundred(one.new_hi)), lostText(one), count(one.planting_seasons)],
  }))
  return (
    <>
      <IntervalTable
        caption={t('ages.survival.caption', { hundred })} nameHead={t('ages.age')} valueHead={t('ages.survival.live')}
        moreHeads={[t('ages.survival.new'), t('ages.survival.lost'), t('ages.survival.plantings')]} under={2}
        groups={[{ rows }]} line={{ from: 0, to: 1 }} shown={inHundred}
      />
      {survival.notes.map((note) => <p class="small" key={note.code + note.text}>{noteText(note)}</p>)}
    </>
  )
}
