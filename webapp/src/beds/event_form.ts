// What a person tells of something that was done to a bed, before it is an event.

import { parseDay } from '../crop/day'
import type { BedEvent, Day, EventKind } from '../crop/nouns'

/** The hours that labels give most, for one tap; common practice, no source. Any other is typed. */
export const usualHours = [4, 12, 24, 48] as const
/** A hundred days: above what any label is known to ask, and below a slip of the finger. */
const mostHours = 2400

const hour = 3_600_000

/** 'none': the label gives no interval; 'kept': as it was recorded; '': not told yet; else hours, as typed. */
export type Interval = 'none' | 'kept' | (string & {})

export interface Draft {
  readonly kind: EventKind
  readonly date: string
  readonly what: string
  readonly interval: Interval
  /** The time of day at which a spray ended, HH:MM, of this device's zone. */
  readonly at: string
  /** What is corrected. */
  readonly before?: BedEvent
}

/** What can be wrong with a draft: its day, a day ahead, its interval, its time, or a time ahead. */
export type Problem = 'day' | 'future' | 'interval' | 'at' | 'ahead'

/** What an entry begins with: today, and for a spray that it ended now. nowMs is in ms since 1970. */
export function beginning(kind: EventKind, today: Day, nowMs: number): Draft {
  return { kind, date: today, what: '', interval: '', at: timeOf(nowMs) }
}

/** What the correction of an event begins with. */
export function correcting(event: BedEvent): Draft {
  const { kind, date, what, until } = event
  return { kind, date, what, interval: until > 0 ? 'kept' : kind === 'sprayed' ? 'none' : '', at: '', before: event }
}

/** The event told, or what keeps it from being one. */
export function eventOf(
  draft: Draft, made: Pick<BedEvent, 'id' | 'bed' | 'person'>, today: Day, nowMs: number,
): { readonly event: BedEvent } | { readonly problem: Problem } {
  const { id, bed, person } = made
  const date = parseDay(draft.date)
  if (date === undefined) return { problem: 'day' }
  if (date > today) return { problem: 'future' }
  const until = draft.kind === 'sprayed' ? endOf(draft, date, nowMs) : 0
  if (typeof until === 'string') return { problem: until }
  return { event: { id, bed, kind: draft.kind, date, person, what: draft.what.trim(), until } }
}

/** When a spray's interval ends; 0 where the label gives none. */
function endOf({ interval, at, before }: Draft, date: Day, nowMs: number): number | 'interval' | 'at' | 'ahead' {
  if (interval === 'none') return 0
  if (interval === 'kept') return before?.date === date ? before.until : 'interval'
  if (!/^\d{1,4}$/.test(interval)) return 'interval'
  const hours = Number(interval)
  if (hours < 1 || hours > mostHours) return 'interval'
  if (!/^\d\d:\d\d$/.test(at)) return 'at'
  const endedAt = new Date(`${date}T${at}:00`).getTime()
  if (Number.isNaN(endedAt)) return 'at'
  return endedAt > nowMs ? 'ahead' : endedAt + hours * hour
}

function timeOf(ms: number): string {
  const moment = new Date(ms)
  return `${String(moment.getHours()).padStart(2, '0')}:${String(moment.getMinutes()).padStart(2, '0')}`
}
