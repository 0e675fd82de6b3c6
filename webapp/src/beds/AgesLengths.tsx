// How long stems are, by season in the ground and flush.

import type { LengthUnit } from '../crop/nouns'
import { t } from '../messages/messages'
import { centimetresIn } from '../ui/lengths'
import { scaled } from './ages_per'
import type { Age } from './ages_report'
import { lineAround } from './ages_scale'
import { flushName, lengthSaid, lengthsOf } from './ages_sentence'
import { IntervalTable } from './IntervalTable'

interface LengthsProps {
  readonly ages: readonly Age[]
  readonly unit: LengthUnit
  readonly hundred: number
}

export function LengthsTable({ ages, unit, hundred }: LengthsProps) {
  const rows = ages.flatMap((age) => lengthsOf(age).map(({ flush, length }) => ({
    key: `${age.age}${flush}`, name: flushName(age.age, flush), interval: scaled(length, centimetresIn(1, unit)),
  })))
  const ends = rows.flatMap(({ interval }) => [interval.lo, interval.hi])
  return (
    <IntervalTable
      caption={t('ages.lengths.caption', { unit: t(`ages.lengths.${unit}`), hundred })} nameHead={t('ages.age')} valueHead={t('ages.mean')}
      groups={[{ rows }]} line={lineAround(ends, unit === 'in' ? 4 : 10)} shown={unit === 'in' ? tenth : Math.round}
    />
  )
}

/** A centimetre is worth telling of a mean; an inch is too coarse. */
function tenth(inches: number): number {
  return Math.round(inches * 10) / 10
}

/** The section in a line; undefined where no stem was measured. */
export function lengthsHint(age: Age | undefined, unit: LengthUnit): string | undefined {
  const first = age && lengthsOf(age).find(({ flush }) => flush !== '')
  if (!first || first.flush === '') return undefined
  return t('ages.lengths.hint', { length: lengthSaid(first.length.mean, unit), flush: t(`flush.${first.flush}`), age: age.age })
}
