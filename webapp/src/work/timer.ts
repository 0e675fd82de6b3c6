// A timer of what somebody works at: what it holds, and what it comes to when it is stopped.

import type { WorkKind } from '../crop/money_nouns'
import type { BedID, PersonID } from '../crop/nouns'

/** What this device keeps of the timer that runs. */
export interface Timer {
  readonly kind: WorkKind
  /** ms since 1970 by this device's own clock, as is the end. */
  readonly since: number
  readonly person: PersonID | ''
  readonly bed: BedID | ''
}

/**
 * What a timer comes to: minutes; nothing, where it was stopped at once; or a question, where nobody works so long at a
 * stretch or the clock was set back meanwhile.
 */
export type Timed = { readonly minutes: number } | 'nothing' | 'ask'

/** From so many minutes on a timer was forgotten rather than worked. */
export const forgottenAfter = 12 * 60

const minute = 60_000

export function timed({ since }: Pick<Timer, 'since'>, now: number): Timed {
  const elapsed = now - since
  if (elapsed < 0 || elapsed > forgottenAfter * minute) return 'ask'
  const minutes = Math.round(elapsed / minute)
  return minutes === 0 ? 'nothing' : { minutes }
}

/** Whole minutes since it was started, for a clock that is looked at. */
export function minutesSince({ since }: Pick<Timer, 'since'>, now: number): number {
  return Math.max(0, Math.floor((now - since) / minute))
}

/** Minutes as they are typed: "90", "1:30", "1 h 30", "1h". Undefined where they are none, or more than a day has. */
export function parseMinutes(typed: string, most: number): number | undefined {
  const [, plain, hours, more = '0'] = /^(?:(\d{1,4})|(\d{1,2})\s*(?::|h\s*)(\d{1,2})?)$/i.exec(typed.trim()) ?? []
  const minutes = plain !== undefined ? Number(plain) : hours !== undefined && Number(more) < 60 ? Number(hours) * 60 + Number(more) : 0
  return minutes >= 1 && minutes <= most ? minutes : undefined
}

/** "0:05", "12:40" */
export function clockOf(minutes: number): string {
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`
}
