// What each age rests on, one tap away: the plants counted, what they gave alone, what common practice
// expected before, and what became of the two.

import { count, listed, t } from '../messages/messages'
import { Marked } from '../ui/Say'
import type { Age } from './ages_report'
import { whole } from './ages_sentence'

export function AgesRests({ ages }: { readonly ages: readonly Age[] }) {
  return (
    <section class="ages-rests">
      <h2>{t('ages.rest.title')}</h2>
      {ages.map((age) => (
        <details key={age.age}>
          <summary>{age.plant_seasons === 0 ? t('ages.rest.none', { age: age.age }) : t('ages.rest.summary', { n: age.plant_seasons, age: age.age })}</summary>
          <ul>{restLines(age).map((line) => <li key={line}><Marked text={line} /></li>)}</ul>
        </details>
      ))}
    </section>
  )
}

/** A difference, in stems, that rounding may make. */
const hardly = 0.5

/** In sentences: what was counted, what that says, what practice says, and both. */
export function restLines(age: Age): string[] {
  const { practice, ahead } = age
  return [
    ...countedLines(age),
    ...(practice ? [t('ages.rest.practice', { mean: whole(practice.mean), lo: count(whole(practice.lo)), hi: count(whole(practice.hi)) })] : []),
    bothLine(age),
    ...(ahead ? [t('ages.rest.ahead', { mean: whole(ahead.mean), lo: count(whole(ahead.lo)), hi: count(whole(ahead.hi)) })] : []),
  ]
}

function countedLines({ plant_seasons: n, alive, plants, plain }: Age): string[] {
  if (n === 0) return []
  const seasons = [...new Set(plants.filter((dot) => !dot.open).map((dot) => dot.season))].sort((a, b) => a - b)
  return [
    t('ages.rest.counted', { n, alive: count(alive), seasons: listed(seasons.map(String)) }),
    ...(plain === undefined ? [] : [t('ages.rest.plain', { plain: tenth(plain) })]),
  ]
}

function bothLine({ plain, stems }: Age): string {
  const mean = tenth(stems.mean)
  if (plain === undefined) return t('ages.rest.practice_only', { mean: whole(stems.mean) })
  const by = tenth(Math.abs(stems.mean - plain))
  if (by < hardly) return t('ages.rest.hardly', { mean })
  return stems.mean < plain ? t('ages.rest.fewer', { mean, by }) : t('ages.rest.more', { mean, by })
}

function tenth(stems: number): number {
  return Math.round(stems * 10) / 10
}
