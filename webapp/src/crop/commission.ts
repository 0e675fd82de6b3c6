// What a channel keeps of a price. Mirrors internal/selling/commission.go, with vectors for both.

import type { Cents } from './sale_nouns'

/**
 * Of one bunch: hundredths of a percent of its price, rounded to the whole cent, half a cent up. Rounded once a bunch and
 * never a sum, so that a plan and an order say the same of the same bunches.
 */
export function channelKeeps(price: Cents, commission: number): Cents {
  const whole = 10_000
  return Math.floor((price * commission + whole / 2) / whole) as Cents
}
