// Tasks as a calendar that phones read: iCalendar, RFC 5545.
//
// Each task is an event of whole days and no VTODO: the calendars of phones show events and pass over to-dos (from memory).
// It takes no time away (TRANSP), so that nobody is busy for the weeks in which a bed may be netted.

import { addDays } from '../crop/day'
import type { Day } from '../crop/nouns'

export interface CalendarEntry {
  /** The same for the same task in every file from every phone. */
  readonly uid: string
  readonly first: Day
  /** Its last day, which is part of it. */
  readonly last: Day
  readonly summary: string
  readonly description: string
  /** It was in an earlier file and is not to be done any more: calendars strike it out or drop it. */
  readonly cancelled: boolean
}

export interface NumberedEntry extends CalendarEntry {
  /** Grows when the entry changes (section 3.8.7.4). */
  readonly sequence: number
}

/** What was written last of each entry, by its uid: kept on the device. */
export type Written = Readonly<Record<string, NumberedEntry>>

const aDay = 86_400_000

/**
 * Numbers what is to be written. An entry that is as it was keeps its number; a changed one takes a higher, which begins with
 * the day's count since 1970, so that what a second phone writes later is newer too. What was written for days from today on
 * and is gone is cancelled.
 */
export function numbered(entries: readonly CalendarEntry[], written: Written, today: Day): NumberedEntry[] {
  const of = Date.parse(today) / aDay
  const next = (entry: CalendarEntry): NumberedEntry => {
    const before = written[entry.uid]
    if (before && same(before, entry)) return before
    return { ...entry, sequence: Math.max(of, (before?.sequence ?? 0) + 1) }
  }
  const here = new Set(entries.map(({ uid }) => uid))
  const gone = Object.values(written).filter(({ uid, last }) => !here.has(uid) && last >= today)
  return [...entries, ...gone.map((entry) => ({ ...entry, cancelled: true }))].map(next)
}

export function writtenOf(entries: readonly NumberedEntry[]): Written {
  return Object.fromEntries(entries.map((entry) => [entry.uid, entry]))
}

function same(a: CalendarEntry, b: CalendarEntry): boolean {
  return a.first === b.first && a.last === b.last && a.summary === b.summary && a.description === b.description && a.cancelled === b.cancelled
}

/** The file. name is what the calendar is called; stamp when it was made, in ms since 1970. */
export function calendarFile(entries: readonly NumberedEntry[], name: string, stamp: number): string {
  const lines = [
    'BEGIN:VCALENDAR',
    'VERSION:2.0',
    'PRODID:-//Corymb//Tasks//EN',
    'CALSCALE:GREGORIAN',
    `X-WR-CALNAME:${escaped(name)}`,
    ...entries.flatMap((entry) => eventLines(entry, stamp)),
    'END:VCALENDAR',
  ]
  return lines.map((line) => `${folded(line)}\r\n`).join('')
}

function eventLines({ uid, first, last, summary, description, sequence, cancelled }: NumberedEntry, stamp: number): string[] {
  return [
    'BEGIN:VEVENT',
    `UID:${escaped(uid)}`,
    `DTSTAMP:${new Date(stamp).toISOString().replace(/[-:]|\.\d+/g, '')}`,
    `SEQUENCE:${sequence}`,
    `DTSTART;VALUE=DATE:${dateOf(first)}`,
    `DTEND;VALUE=DATE:${dateOf(addDays(last, 1))}`, // the first day behind it (section 3.6.1)
    `SUMMARY:${escaped(summary)}`,
    ...(description === '' ? [] : [`DESCRIPTION:${escaped(description)}`]),
    'TRANSP:TRANSPARENT',
    `STATUS:${cancelled ? 'CANCELLED' : 'CONFIRMED'}`,
    'END:VEVENT',
  ]
}

function dateOf(day: Day): string {
  return day.replaceAll('-', '')
}

/** A TEXT (section 3.3.11). Control characters may not stand in one. */
export function escaped(text: string): string {
  return text.replace(/[\\;,]/g, (sign) => `\\${sign}`).replace(/\r\n|\r|\n/g, '\\n').replace(/[\u0000-\u0008\u000b-\u001f\u007f]/g, '')
}

/** A content line in pieces of at most 75 octets, each further one after a space (section 3.1); no character is cut apart. */
export function folded(line: string): string {
  const most = 75
  const pieces: string[] = []
  let piece = ''
  let octets = 0
  for (const sign of line) {
    const size = octetsOf(sign)
    if (octets + size > most) {
      pieces.push(piece)
      piece = ' '
      octets = 1
    }
    piece += sign
    octets += size
  }
  return [...pieces, piece].join('\r\n')
}

function octetsOf(sign: string): number {
  const point = sign.codePointAt(0)!
  return point < 0x80 ? 1 : point < 0x800 ? 2 : point < 0x10000 ? 3 : 4
}
