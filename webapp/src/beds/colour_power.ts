// How many photos are worth taking: the chance that a drift is confirmed, by how often plants are photographed.

import type { ColourReport, Power } from './colour_report'

/** So many photos of each plant a season, over so many days. */
export interface PhotoPlan {
  readonly photos: number
  readonly days: number
  /** By the size of a drift, the smallest first. */
  readonly chances: readonly Power[]
}

/** One day confirms nothing, so those plans are left out. */
export function photoPlans({ power }: Pick<ColourReport, 'power'>): PhotoPlan[] {
  const plans = new Map<string, Power[]>()
  for (const one of power) {
    const key = `${one.photos} ${one.days}`
    plans.set(key, [...(plans.get(key) ?? []), one])
  }
  return [...plans.values()]
    .map((chances) => ({ photos: chances[0]!.photos, days: chances[0]!.days, chances: [...chances].sort((a, b) => a.size - b.size) }))
    .filter(({ days }) => days > 1)
    .sort((a, b) => a.photos - b.photos || a.days - b.days)
}

/** The chance that is worth having. */
export const enough = 0.8

export function chanceOf({ chances }: PhotoPlan, size: number): number {
  return chances.find((one) => one.size === size)?.confirmed ?? 0
}

/** The smallest drift that a plan confirms often enough; undefined where none of those asked. */
export function sizeSeen({ chances }: PhotoPlan): number | undefined {
  return chances.find((one) => one.confirmed >= enough)?.size
}

export interface Worth {
  /** The fewest photos that see a drift of the size often enough; else those that see it most often. */
  readonly plan: PhotoPlan
  readonly enough: boolean
  /** The next that takes more photos and sees clearly more: what the effort would bring. */
  readonly more: PhotoPlan | undefined
}

/** By how much a chance must grow for a photo more to be worth naming. */
const clearlyMore = 0.03

export function worthTaking(plans: readonly PhotoPlan[], size: number): Worth | undefined {
  const best = [...plans].sort((a, b) => chanceOf(b, size) - chanceOf(a, size))[0]
  if (!best) return undefined
  const plan = plans.find((one) => chanceOf(one, size) >= enough) ?? best
  const more = plans.find((one) => one.photos > plan.photos && chanceOf(one, size) >= chanceOf(plan, size) + clearlyMore)
  return { plan, enough: chanceOf(plan, size) >= enough, more }
}
