// This season against former ones: each age in each season, and each bed in its newest.

import { count, t } from '../messages/messages'
import { href } from '../ui/route'
import { type Per, scaled, shareIn } from './ages_per'
import type { Age, BedStems, Interval, Survival } from './ages_report'
import { lineFromZero } from './ages_scale'
import { newestCompared, standsOut } from './ages_seasons'
import { seasonWord, whole } from './ages_sentence'
import { type IntervalGroup, IntervalTable } from './IntervalTable'

/** What a grower would say of the newest season. */
export function seasonsSentence(ages: readonly Age[]): string {
  const out = standsOut(ages)
  const newest = newestCompared(ages)
  if (newest === undefined) return t('ages.seasons.one')
  if (!out) return t('ages.seasons.same', { season: String(newest) })
  const told = { season: String(out.season), mean: whole(out.mean), age: seasonWord(out.age), before: whole(out.before) }
  return out.mean < out.before ? t('ages.seasons.fewer', told) : t('ages.seasons.more', told)
}

interface SeasonsTableProps {
  readonly ages: readonly Age[]
  readonly survival: Survival | undefined
  readonly per: Per
  readonly hundred: number
}

export function SeasonsTable({ ages, survival, per, hundred }: SeasonsTableProps) {
  const groups: IntervalGroup[] = ages.filter(({ seasons = [] }) => seasons.length > 0).map((age) => ({
    name: t('season.in_ground', { age: age.age }),
    rows: [...age.seasons ?? []].reverse().map((one) => {
      const share = shareIn(age, survival, one, per)
      const interval = share.factor === undefined ? undefined : scaled(one, share.factor)
      return { key: String(one.season), name: String(one.season), interval, more: [count(share.plants)] }
    }),
  }))
  return (
    <IntervalTable
      caption={t('ages.seasons.caption', { per: t(`ages.stems.${per}`), hundred })} nameHead={t('ages.season.year')} valueHead={t('ages.mean')}
      moreHeads={[t('ages.divided')]} groups={groups} line={lineFromZero(upperEnds(groups))} shown={whole}
    />
  )
}

export function BedsTable({ ages, hundred }: { readonly ages: readonly Age[]; readonly hundred: number }) {
  const groups: IntervalGroup[] = ages.map((age) => ({ age, beds: newestOfBeds(age.beds ?? []) })).filter(({ beds }) => beds.length > 0).map(({ age, beds }) => ({
    name: t('season.in_ground', { age: age.age }),
    rows: beds.map((one) => ({
      key: one.bed, interval: one, more: [count(one.alive)],
      name: <><a class="bed-link" href={href('beds', 'bed', one.bed)}>{one.name}</a> <span class="beside">{String(one.season)}</span></>,
    })),
  }))
  return (
    <IntervalTable
      caption={t('ages.beds.caption', { hundred })} nameHead={t('ages.bed')} valueHead={t('ages.mean')}
      moreHeads={[t('ages.alive')]} groups={groups} line={lineFromZero(upperEnds(groups))} shown={whole}
    />
  )
}

function upperEnds(groups: readonly IntervalGroup[]): number[] {
  return groups.flatMap(({ rows }) => rows.map(({ interval }): Interval['hi'] => interval?.hi ?? 0))
}

/** Each bed once, in the newest season that it had at this age, by name. */
function newestOfBeds(beds: readonly BedStems[]): BedStems[] {
  const newest = new Map<string, BedStems>()
  for (const one of beds) {
    const other = newest.get(one.bed)
    if (!other || other.season < one.season) newest.set(one.bed, one)
  }
  return [...newest.values()].sort((a, b) => a.name.localeCompare(b.name))
}
