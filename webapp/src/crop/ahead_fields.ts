// Where what divisions cost is held of the farm. Mirrors internal/farm/cost_fields.go.

import type { DivisionCosts } from './ahead_nouns'

/** In the place of a cost: back to the usual one. 0 is a cost like any other. */
export const asUsual = -1

export const costFields: readonly (readonly [keyof DivisionCosts, string])[] = [
  ['hour', 'hour_cents'], ['divide', 'divide_minutes'], ['lift', 'lift_minutes'], ['set', 'set_minutes'], ['plug', 'plug_cents'],
  ['ground', 'ground_cents'], ['standing', 'standing_worth'],
]
