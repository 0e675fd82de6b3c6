// What the shed says of one plant's own colour: whether it keeps it, by how much it drifted, or what is lacking to tell.

import type { PlantID, Season } from '../crop/nouns'
import { decimal, listed, t } from '../messages/messages'
import { enough, photoPlans } from './colour_power'
import type { ColourReport, PlantSeason } from './colour_report'
import { missedText, partsText, reasonText, toldParts } from './colour_words'

export type PlantDrift =
  /** The shed's answer is not on this device. */
  | { readonly kind: 'unasked' }
  /** The answer knows no reading of it. */
  | { readonly kind: 'unknown' }
  /** There is no season before to hold it against. */
  | { readonly kind: 'first'; readonly season: Season }
  /** Its first good season came after others that have none: later ones are held against it. */
  | { readonly kind: 'baseline'; readonly season: Season }
  | { readonly kind: 'judged'; readonly judged: PlantSeason; readonly lacking: Lacking | undefined }

/** Photos that would likely be enough to tell. */
export interface Lacking {
  readonly photos: number
  readonly days: number
  /**
   * 'more' than there are in the season that runs; in a 'season', where the one that was judged is over; to 'begin' with,
   * where no season before can be held against it.
   */
  readonly of: 'more' | 'season' | 'begin'
}

export function plantDrift(report: ColourReport | undefined, plant: PlantID, now: Season): PlantDrift {
  if (!report) return { kind: 'unasked' }
  const judged = judgedSeasons(report, plant)[0]
  // The shed judges every season but the baseline itself, which need not be the plant's first.
  const newest = report.colours.filter((one) => one.plant === plant).sort((a, b) => b.season - a.season)[0]
  if (judged && newest && newest.season > judged.season && newest.firm > 0) return { kind: 'baseline', season: newest.season }
  if (judged) return { kind: 'judged', judged, lacking: lackingPhotos(report, judged, now) }
  return newest ? { kind: 'first', season: newest.season } : { kind: 'unknown' }
}

/** What is said of a plant, or of a reference plant beside the others, season by season, the newest first. */
export function judgedSeasons({ plant_seasons: plants, references }: Pick<ColourReport, 'plant_seasons' | 'references'>, plant: PlantID): PlantSeason[] {
  return [...plants, ...references].filter((one) => one.plant === plant).sort((a, b) => b.season - a.season)
}

/** A drift of so many thresholds must be noticed for "none" to be said (internal/drift). */
const timesThreshold = 2

/** Reasons that more photos of full bloom, with a card and out of the sun, do away with. */
const mended: readonly string[] = ['too_few_readings', 'no_full_bloom', 'only_sun', 'no_card']

/**
 * By how many photos a stand photographed like this one notices a drift often enough; undefined where it is not photos
 * that are lacking, or there are as many already.
 */
function lackingPhotos(report: ColourReport, judged: PlantSeason, now: Season): Lacking | undefined {
  if (judged.state !== 'cannot_tell' || !judged.reasons.some((reason) => mended.includes(reason))) return undefined
  const size = timesThreshold * report.threshold
  const plan = photoPlans(report).find(({ chances }) => chances.some((one) => one.size <= size && one.noticed >= enough))
  if (!plan) return undefined
  if (judged.reasons.includes('no_baseline')) return { photos: plan.photos, days: plan.days, of: 'begin' }
  if (judged.season < now) return { photos: plan.photos, days: plan.days, of: 'season' }
  const photos = plan.photos - judged.readings
  return photos > 0 ? { photos, days: Math.min(photos, Math.max(1, plan.days - judged.days)), of: 'more' } : undefined
}

/** The sentence that a grower would say; words between asterisks carry its weight. */
export function driftSentence(drift: PlantDrift): string {
  if (drift.kind === 'first' || drift.kind === 'baseline') return t(`plant.drift.${drift.kind}`, { season: String(drift.season) })
  if (drift.kind !== 'judged') return t(`plant.drift.${drift.kind}`)
  const { judged: { season, baseline, state, shift }, judged, lacking } = drift
  const seasons = { season: String(season), since: String(baseline) }
  if (state === 'none') return shift?.noticeable == null ? t('plant.drift.keeps', seasons) : t('plant.drift.keeps.seen', { ...seasons, n: decimal(shift.noticeable, 1) })
  if (state === 'cannot_tell' || !shift) return lacking ? lackingText(lacking, seasons.season) : t('plant.drift.untold', { season: seasons.season, why: whyText(judged) })
  const parts = partsText(toldParts(shift))
  const told = { ...seasons, n: decimal(shift.total.mean, 1), range: t('ages.range', { lo: decimal(shift.total.lo, 1), hi: decimal(shift.total.hi, 1) }), parts }
  return parts === '' ? t(`plant.drift.${state}`, told) : t(`plant.drift.${state}.how`, told)
}

function lackingText({ photos, days, of }: Lacking, season: string): string {
  const told = { n: photos, days: t('plant.drift.days', { n: days }) }
  return of === 'season' ? t('plant.drift.few.season', { ...told, season }) : t(`plant.drift.few.${of}`, told)
}

function whyText({ reasons }: Pick<PlantSeason, 'reasons'>): string {
  return reasons.length === 0 ? t('plant.drift.untold.why') : listed(reasons.map(reasonText))
}

/** What to know beside the sentence: why, and what may have been missed. */
export function driftMind(drift: PlantDrift): string {
  if (drift.kind !== 'judged') return ''
  const { judged, lacking } = drift
  // The sentence says why, or that nothing is there to begin with.
  const said = judged.state === 'cannot_tell' && (!lacking || lacking.of === 'begin')
  const why = said || judged.reasons.length === 0 ? '' : t('colours.mind', { why: listed(judged.reasons.map(reasonText)) })
  return [why, missedText(judged)].filter(Boolean).join(' ')
}
