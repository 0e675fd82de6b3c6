// What was due on a day past and went out to nobody: it still needs stems, until it is packed, moved or cancelled.

import { addDays } from './day'
import { type Due, dueBetween } from './due'
import { coolerDays } from './cooler'
import type { Day } from './nouns'
import { packedFor } from './over_packed'
import type { Line, Sales } from './sale_nouns'

/** After a week nobody still waits for a delivery: this program's choice. */
const longest = 7

/** For how many days a delivery that did not go out is still to be cut for: as long as it is packed of the day's stems. */
export function overdueDays(sales: Sales): number {
  return Math.min(longest, coolerDays(sales.terms))
}

/**
 * The deliveries of the last days that did not go out, the oldest first. Of which anything was packed before today went
 * out, if short: plans leave lines short every day, and what nobody waits for any more is not cut.
 */
export function overdueOn(sales: Sales, today: Day): Due[] {
  return dueBetween(sales, addDays(today, -overdueDays(sales)), addDays(today, -1))
    .filter(({ lines }) => !lines.some((line) => packedUntil(sales, line, addDays(today, -1)) > 0))
}

/** What is to be delivered until a day, with what should have been before today. */
export function toDeliver(sales: Sales, today: Day, until: Day): Due[] {
  return [...overdueOn(sales, today), ...dueBetween(sales, today, until)]
}

function packedUntil(sales: Sales, line: Line, day: Day): number {
  return packedFor(sales, line.id).reduce((sum, { date, bunches }) => sum + (date <= day ? bunches : 0), 0)
}
