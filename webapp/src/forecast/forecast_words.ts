// How what is to come is put into words: weeks, and numbers no finer than they are known.

import { addDays } from '../crop/day'
import type { Day } from '../crop/nouns'
import { weekOf } from '../crop/week'
import { count, locale, t } from '../messages/messages'
import { oncePerLocale } from '../messages/message'
import type { Range } from './forecast'

const ofWeeks = oncePerLocale((tag) => new Intl.DateTimeFormat(tag, { day: 'numeric', month: 'long', timeZone: 'UTC' }))
const ofWeeksShort = oncePerLocale((tag) => new Intl.DateTimeFormat(tag, { day: 'numeric', month: 'short', timeZone: 'UTC' }))

/** A week by its days: "3–9 June"; of one that began, from a day on. */
export function weekName(from: Day, its = locale.value, to = addDays(from, 6)): string {
  return formatted(ofWeeks(its), from, to)
}

/** The same where there is little room: "3–9 Jun". */
export function weekShort(monday: Day, its = locale.value): string {
  return formatted(ofWeeksShort(its), monday, addDays(monday, 6))
}

/** Between two days of one month without the spaces that some locales have there, at which a line would break. */
function formatted(format: Intl.DateTimeFormat, from: Day, to: Day): string {
  return format.formatRange(new Date(from), new Date(to)).replace(/(\d)\s*–\s*(\d)/, '$1–$2')
}

/** As growers and markets number it: "w23". */
export function weekNumber(monday: Day): string {
  return t('forecast.week.number', { n: String(weekOf(monday).number) })
}

/** Stems as they are spoken of: from a hundred on in tens, since nobody knows them better. */
export function roughly(stems: number): number {
  return stems < 100 ? Math.round(stems) : Math.round(stems / 10) * 10
}

/** The ends of the range of nine in ten, for a sentence. */
export function ends({ q05, q95 }: Range): { readonly lo: string; readonly hi: string } {
  return { lo: count(roughly(q05)), hi: count(roughly(q95)) }
}

/** "980–1,530", the range of nine in ten. */
export function rangeOfMost({ q05, q95 }: Range): string {
  return rangeShort(q05, q95)
}

/** "1,120–1,360", the range of half of all cases. */
export function rangeOfHalf({ q25, q75 }: Range): string {
  return rangeShort(q25, q75)
}

function rangeShort(lo: number, hi: number): string {
  return `${count(roughly(lo))}–${count(roughly(hi))}`
}

/** How many in a hundred; never all nor none where it is only nearly so. */
export function inHundred(chance: number): number {
  if (chance <= 0 || chance >= 1) return chance <= 0 ? 0 : 100
  return Math.min(99, Math.max(1, Math.round(chance * 100)))
}

/** How many in a hundred, rounded down: what somebody is promised is never said to be surer than it is. */
export function sureInHundred(chance: number): number {
  return Math.floor(chance * 100 + 1e-9)
}
