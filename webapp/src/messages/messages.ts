// The words of the app in the language in use. `t` reads a signal, so that a component that calls
// it is drawn again when the language changes.

import { computed, effect, type ReadonlySignal, signal } from '@preact/signals'
import type { Day } from '../crop/nouns'
import { en } from './en'
import { type ArgsOf, fill, number, oncePerLocale, type Translation } from './message'

export type Language = 'en' | 'es'
export type LanguageChoice = 'auto' | Language
export type Key = keyof typeof en

/** The languages of this device, best first; none outside a browser. */
const preferred: readonly string[] = globalThis.navigator?.languages ?? []

export const languageChoice = signal<LanguageChoice>('auto')

export const language = computed<Language>(() =>
  languageChoice.value === 'auto' ? spokenHere(preferred) : languageChoice.value,
)

type Catalogue = Translation<typeof en>

const catalogue = signal<Catalogue>(en)

/** The words in use: another object when the language changes, for what remembers a drawing. */
export const words: ReadonlySignal<Catalogue> = catalogue

/** Brings the words of a language in; English is there from the start and stands in meanwhile. */
export async function loadWords(wanted: Language): Promise<void> {
  catalogue.value = wanted === 'es' ? (await import('./es')).es : en
}

/** Follows the language chosen; resolves when the first words are there. Call once. */
export function followLanguage(): Promise<void> {
  return new Promise((ready) => {
    effect(() => {
      loadWords(language.value).then(ready, ready) // not on the device yet: English until it is
    })
  })
}

/** The first of the device's languages that the app speaks; English if none is. */
export function spokenHere(tags: readonly string[]): Language {
  for (const tag of tags) {
    if (tag.startsWith('es')) return 'es'
    if (tag.startsWith('en')) return 'en'
  }
  return 'en'
}

/** The device's own variety of the language where it has one: dates and digits follow it. */
export const locale = computed(() => localeOf(language.value))

function localeOf(spoken: Language): string {
  return preferred.find((tag) => tag.startsWith(spoken)) ?? (spoken === 'es' ? 'es-419' : 'en-US')
}

export function t<K extends Key>(key: K, ...args: ArgsOf<(typeof en)[K]>): string {
  return fill(catalogue.value[key], args[0] ?? {}, locale.value)
}

/** Whether a text names a message: for codes that the shed sends. */
export function hasMessage(key: string): key is Key {
  return Object.hasOwn(en, key)
}

/** Fills a message whose key is only known while running; placeholders without a value stay. */
export function tCode(key: Key, args: Readonly<Record<string, string | number>>): string {
  return fill(catalogue.value[key], args, locale.value)
}

/** Says messages in one language, whichever the app is in: for what is sent to somebody else. */
export interface Speaker {
  readonly locale: string
  t<K extends Key>(key: K, ...args: ArgsOf<(typeof en)[K]>): string
  /** A day with its weekday: "Wed, 3 Jun". */
  day(day: Day): string
}

export async function speakerOf(spoken: Language): Promise<Speaker> {
  const all: Catalogue = spoken === 'es' ? (await import('./es')).es : en
  const its = localeOf(spoken)
  const days = new Intl.DateTimeFormat(its, { weekday: 'short', day: 'numeric', month: 'short', timeZone: 'UTC' })
  return { locale: its, t: (key, ...args) => fill(all[key], args[0] ?? {}, its), day: (day) => days.format(new Date(day)) }
}

export function count(n: number): string {
  return number(n, locale.value)
}

/** A measured number with so many digits behind its point, also where they are zeros; one that rounds to nothing bears no sign. */
export function decimal(n: number, digits: number): string {
  const shown = Math.abs(n) < 0.5 / 10 ** digits ? 0 : n
  return new Intl.NumberFormat(locale.value, { minimumFractionDigits: digits, maximumFractionDigits: digits }).format(shown)
}

/** A day as people say it: "Wed 3 June", with the year where it is not this one. */
export function dayName(day: Day | '', today: Day): string {
  if (day === '') return t('day.unknown')
  if (day === today) return t('day.today')
  const sameYear = day.slice(0, 4) === today.slice(0, 4)
  return (sameYear ? dayOfThisYear : dayOfAnother)(locale.value).format(new Date(day))
}

// Making a formatter takes longer than a row of a list: a page of hundreds of days makes each once.
const dayOfThisYear = oncePerLocale((tag) => new Intl.DateTimeFormat(tag, { weekday: 'short', day: 'numeric', month: 'long', timeZone: 'UTC' }))
const dayOfAnother = oncePerLocale((tag) => new Intl.DateTimeFormat(tag, { day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' }))
const dayOnPaper = oncePerLocale((tag) => new Intl.DateTimeFormat(tag, { weekday: 'short', day: 'numeric', month: 'short', year: 'numeric', timeZone: 'UTC' }))
const dayOfAMonth = oncePerLocale((tag) => new Intl.DateTimeFormat(tag, { day: 'numeric', month: 'short', timeZone: 'UTC' }))
const together = oncePerLocale((tag) => new Intl.ListFormat(tag, { type: 'conjunction' }))
const alternatives = oncePerLocale((tag) => new Intl.ListFormat(tag, { type: 'disjunction' }))

/** A day with its weekday and year, as it is written on paper: "Wed, 3 Jun 2026". */
export function dateName(day: Day): string {
  return dayOnPaper(locale.value).format(new Date(day))
}

/** A day without its year, as it heads a column: "3 Jun". */
export function dayAndMonth(day: Day): string {
  return dayOfAMonth(locale.value).format(new Date(day))
}

/** From one day to another, without their year: "3 – 14 May". */
export function daysName(first: Day, last: Day): string {
  return dayOfAMonth(locale.value).formatRange(new Date(first), new Date(last))
}

/** How long, in the largest unit that tells it in whole numbers: "3 minutes", "2 days". */
export function spanName(ms: number): string {
  const minutes = Math.round(ms / 60_000)
  const [unit, size] = minutes >= 2880 ? ['day', 1440] as const : minutes >= 120 ? ['hour', 60] as const : ['minute', 1] as const
  return new Intl.NumberFormat(locale.value, { style: 'unit', unit, unitDisplay: 'long', maximumFractionDigits: 0 }).format(minutes / size)
}

/** How many bytes, in a unit that tells it in few digits: "820 kB", "4.1 MB". */
export function bytesName(bytes: number): string {
  const [unit, size] = bytes < 1e6 ? ['kilobyte', 1e3] as const : ['megabyte', 1e6] as const
  const digits = bytes >= 1e6 && bytes < 10e6 ? 1 : 0
  return new Intl.NumberFormat(locale.value, { style: 'unit', unit, maximumFractionDigits: digits }).format(Math.max(1, bytes / size))
}

/** Moment of the device's own clock: "3 Jun, 14:05"; of another year than now with the year. */
export function momentName(ms: number, now = Date.now()): string {
  const moment = new Date(ms)
  const ofThisYear = moment.getFullYear() === new Date(now).getFullYear()
  return new Intl.DateTimeFormat(locale.value, {
    day: 'numeric', month: 'short', hour: 'numeric', minute: '2-digit', ...(!ofThisYear && { year: 'numeric' }),
  }).format(moment)
}

/** "one, two and three" in the language in use. */
export function listed(items: readonly string[]): string {
  return together(locale.value).format(items)
}

/** "one, two or three" in the language in use. */
export function listedOr(items: readonly string[]): string {
  return alternatives(locale.value).format(items)
}

/** A day of the week by its digit of ISO 8601, 1 for Monday: "Mon". */
export function weekdayName(digit: number): string {
  // 1 January 2024 is a Monday.
  return new Intl.DateTimeFormat(locale.value, { weekday: 'short', timeZone: 'UTC' }).format(new Date(Date.UTC(2024, 0, digit)))
}
