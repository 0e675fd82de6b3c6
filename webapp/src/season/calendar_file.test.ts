// Against RFC 5545's own examples, and read back by ical.js, a general-purpose library for iCalendar.

import ICAL from 'ical.js'
import { describe, expect, it } from 'vitest'
import type { Day } from '../crop/nouns'
import { type CalendarEntry, calendarFile, escaped, folded, numbered, writtenOf } from './calendar_file'

const entry = (told: Partial<CalendarEntry> = {}): CalendarEntry => ({
  uid: '2026.net.b1@f1.corymb', first: '2026-05-02' as Day, last: '2026-05-14' as Day, summary: 'Net Long bed', description: '', cancelled: false, ...told,
})
const today = '2026-05-01' as Day
const stamp = Date.UTC(2026, 4, 1, 6, 30, 15)

function readBack(text: string): ICAL.Event[] {
  return new ICAL.Component(ICAL.parse(text) as unknown[]).getAllSubcomponents('vevent').map((one) => new ICAL.Event(one))
}

describe('escaping and folding', () => {
  it('writes the text of RFC 5545, section 3.3.11, as it stands there', () => {
    expect(escaped('Project XYZ Final Review\nConference Room - 3B\nCome Prepared.'))
      .toBe('Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.')
    expect(escaped('a;b,c\\d\r\ne\u0007')).toBe('a\\;b\\,c\\\\d\\ne')
  })

  it('unfolds, as section 3.1 says, to what was folded, and the folding of its example does too', () => {
    const unfold = (text: string) => text.replace(/\r\n[ \t]/g, '')
    const example = 'DESCRIPTION:This is a lo\r\n ng description\r\n  that exists on a long line.'
    expect(unfold(example)).toBe('DESCRIPTION:This is a long description that exists on a long line.')
    for (const line of [unfold(example), `SUMMARY:${'Schöne Größe, ñandú 🌼 '.repeat(12)}`, 'x'.repeat(75), 'x'.repeat(76), '']) {
      expect(unfold(folded(line))).toBe(line)
      for (const piece of folded(line).split('\r\n')) expect(new TextEncoder().encode(piece).length).toBeLessThanOrEqual(75)
    }
    expect(folded('x'.repeat(75))).not.toContain('\r\n')
    expect(folded('x'.repeat(76))).toBe(`${'x'.repeat(75)}\r\n x`)
  })
})

describe('the file', () => {
  const text = calendarFile(numbered([
    entry(),
    entry({
      uid: '2026.own.1@f1.corymb', first: today, last: today, summary: 'Fetch nets; 3 rolls, 10 m \\ 1.2 m',
      description: 'First cut of Ägäis 🌼 likely 3 to 14 May.\nLook at every line, slowly, before the stems begin to lean over the path.',
    }),
  ], {}, today), 'Tasks of Smith, Sons; Co', stamp)

  it('ends its lines as section 3.1 says and keeps them short', () => {
    expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true)
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
  })

  it('is read back by another library as it was meant', () => {
    const [net, own] = readBack(text)
    expect(net!.uid).toBe('2026.net.b1@f1.corymb')
    expect([net!.startDate.isDate, net!.startDate.toString(), net!.endDate.toString()]).toEqual([true, '2026-05-02', '2026-05-15'])
    expect(own!.summary).toBe('Fetch nets; 3 rolls, 10 m \\ 1.2 m')
    expect(own!.description).toBe('First cut of Ägäis 🌼 likely 3 to 14 May.\nLook at every line, slowly, before the stems begin to lean over the path.')
    expect(own!.component.getFirstPropertyValue('dtstamp')?.toString()).toBe('2026-05-01T06:30:15Z')
    expect(own!.component.getFirstPropertyValue('status')).toBe('CONFIRMED')
  })

  it('is one without any event too', () => {
    expect(readBack(calendarFile([], 'Tasks', stamp))).toEqual([])
  })
})

describe('numbers of entries', () => {
  const first = numbered([entry()], {}, today)
  const later = '2026-05-09' as Day

  it('stay while nothing changes, and grow with what does', () => {
    expect(numbered([entry()], writtenOf(first), later)).toEqual(first)
    const [moved] = numbered([entry({ last: '2026-05-20' as Day })], writtenOf(first), today)
    expect(moved!.sequence).toBe(first[0]!.sequence + 1)
  })

  it('are higher on another day, also on a phone that wrote none before', () => {
    expect(numbered([entry({ summary: 'Net' })], {}, later)[0]!.sequence).toBeGreaterThan(first[0]!.sequence)
  })

  it('cancel what is gone and was still to come, once', () => {
    const [gone] = numbered([], writtenOf(first), later)
    expect(gone).toMatchObject({ cancelled: true, uid: entry().uid })
    expect(gone!.sequence).toBeGreaterThan(first[0]!.sequence)
    expect(numbered([], writtenOf([gone!]), later)).toEqual([gone])
    expect(numbered([], writtenOf(first), '2026-06-01' as Day)).toEqual([])
  })
})
