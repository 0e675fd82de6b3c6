// The words of the app in the language in use. `t` reads a signal, so that a component that calls
// it is drawn again when the language changes.

import { computed, effect, signal } from '@preact/signals'
import type { Day } from '../crop/nouns'
import { en } from './en'
import { type ArgsOf, fill, type Translation } from './message'

export type Language = 'en' | 'es'
export type LanguageChoice = 'auto' | Language
export type Key = keyof typeof en

export const languageChoice = signal<LanguageChoice>('auto')

export const language = computed<Language>(() =>
  languageChoice.value === 'auto' ? spokenHere(navigator.languages) : languageChoice.value,
)

type Catalogue = Translation<typeof en>

const catalogue = signal<Catalogue>(en)

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
export function spokenHere(preferred: readonly string[]): Language {
  for (const tag of preferred) {
    if (tag.startsWith('es')) return 'es'
    if (tag.startsWith('en')) return 'en'
  }
  return 'en'
}

/** The device's own variety of the language where it has one: dates and digits follow it. */
export const locale = computed(() => {
  const own = navigator.languages.find((tag) => tag.startsWith(language.value))
  return own ?? (language.value === 'es' ? 'es-419' : 'en-US')
})

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

export function count(n: number): string {
  return new Intl.NumberFormat(locale.value).format(n)
}

/** A day as people say it: "Wed 3 June", with the year where it is not this one. */
export function dayName(day: Day | '', today: Day): string {
  if (day === '') return t('day.unknown')
  if (day === today) return t('day.today')
  const sameYear = day.slice(0, 4) === today.slice(0, 4)
  return new Intl.DateTimeFormat(locale.value, {
    weekday: sameYear ? 'short' : undefined,
    day: 'numeric',
    month: sameYear ? 'long' : 'short',
    year: sameYear ? undefined : 'numeric',
    timeZone: 'UTC',
  }).format(new Date(day))
}

/** Moment of the device's own clock: "3 June, 14:05". */
export function momentName(ms: number): string {
  return new Intl.DateTimeFormat(locale.value, {
    day: 'numeric', month: 'long', hour: 'numeric', minute: '2-digit',
  }).format(new Date(ms))
}

/** "one, two and three" in the language in use. */
export function listed(items: readonly string[]): string {
  return new Intl.ListFormat(locale.value, { type: 'conjunction' }).format(items)
}
