// When each of a season's tasks is to be done. Every number here is common practice, no source: growers' habits, which a
// forecast, the farm's own seasons or its weather take the place of wherever there is one.

import type { GrownTaskKind } from './ahead_nouns'

/** Days counted from something: the first and the last in which a task is to be done. */
export interface Days {
  readonly from: number
  readonly to: number
}

/** In days from the first cut of a bed: its early bound for what must be there before, its likely day for what comes after. */
export const aroundFirstCut = {
  /** Stems lean once the buds are heavy: nets and corrals stand a week before the first stem is cut. */
  corral: { from: -28, to: -7 },
  /** From a week before the early bound to the likely day. */
  first_look: { from: -7, to: 0 },
  /** The third week is the heaviest, where no forecast tells which. */
  heavy_week: { from: 14, to: 20 },
  /** In full bloom, while the colour shows. */
  label_mothers: { from: 7, to: 24 },
  /** Before seed is set and sown. */
  deadhead: { from: 28, to: 42 },
  /** A flush lasts four to five weeks, where no forecast tells when it ends. */
  cut_back: { from: 35, to: 56 },
} as const satisfies Partial<Record<GrownTaskKind, Days>>

/** In days from the first of the season's spring (March in the north, September in the south). */
export const aroundSpring = {
  /** The first cut where nothing is known yet: as the forecast begins with, some two weeks either way. */
  firstCut: { from: 66, to: 94 },
  /** As growth begins and the dead can be told from the late. */
  stand_walk: { from: 14, to: 56 },
  /** As growth begins. */
  divide: { from: 14, to: 56 },
  /** Or in early fall, six weeks and more before the ground freezes. */
  divideInFall: { from: 184, to: 228 },
} as const

/** Plug growers want orders so many days before the plugs are set out. */
export const beforePlanting: Days = { from: -140, to: -84 }

/** Where it is known only from former seasons, the first cut lies so many days either way. */
export const seasonsApart = 10

/** Clumps are divided from their third season in the ground on. */
export const divideFromAge = 3

/** The flush is over in the week whose stems are below this share of its heaviest. */
export const littleLeft = 0.1

/** Days in which a bed is cut back once little is left. */
export const cutBackWithin = 14

/** A task that nobody did is let go of so many days behind its last: it helps no more. */
export const lapsesAfter: Readonly<Record<GrownTaskKind, number>> = {
  corral: 14, first_look: 14, heavy_week: 0, cut_back: 60, deadhead: 30, divide: 21, label_mothers: 14, order_plugs: 84, stand_walk: 30,
}

/** What of the next season is shown: what begins within so many days. */
export const nextSeasonWithin = 90
