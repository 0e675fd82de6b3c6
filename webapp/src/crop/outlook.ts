// What tasks take of the shed's forecast, as a phone keeps it.

import type { Day, Flush, Season, StockID } from './nouns'

export interface Outlook {
  readonly season: Season
  readonly weeks: readonly OutlookWeek[]
  /** Of flushes that have not begun. */
  readonly first_cuts: readonly OutlookCut[]
}

export interface OutlookWeek {
  /** Its Monday. */
  readonly first: Day
  readonly total: { readonly mean: number; readonly q05: number; readonly q95: number }
}

export interface OutlookCut {
  readonly stock: StockID
  readonly flush: Flush
  readonly q05: Day
  readonly q50: Day
  readonly q95: Day
  /** That it comes at all. */
  readonly chance: number
}

/** Under which name a device keeps the forecast. */
export const keptForecast = 'forecast'

/** What is kept there may be of another version of the app: then it is as good as nothing. */
export function outlookOf(kept: unknown): Outlook | undefined {
  const found = kept as Partial<Outlook> | null | undefined
  const whole = typeof found?.season === 'number' && Array.isArray(found.weeks) && Array.isArray(found.first_cuts)
  return whole ? (found as Outlook) : undefined
}
