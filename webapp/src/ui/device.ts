// Settings of this device alone. They are kept in the notebook and never synced.

import { effect, signal } from '@preact/signals'
import { type LanguageChoice, language, languageChoice } from '../messages/messages'
import type { Day, LengthClass } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { readKeys } from './key_map'

export type Theme = 'auto' | 'light' | 'dark'
export type Hand = 'left' | 'right'

export const theme = signal<Theme>('auto')
export const tones = signal(true)
export const hand = signal<Hand>('right')
export const bunchSize = signal(10)

/** Length classes that somebody asked for beside those in use, on one day. */
export interface LengthsAsked {
  readonly day: Day
  readonly lengths: readonly LengthClass[]
}
export const lengthsAsked = signal<LengthsAsked | undefined>(undefined)

const names = {
  theme: 'device.theme', language: 'device.language', tones: 'device.tones', hand: 'device.hand',
  bunch: 'device.bunch', lengths: 'device.lengths',
} as const

export function readDevice(notebook: Notebook): void {
  theme.value = notebook.kept<Theme>(names.theme) ?? 'auto'
  languageChoice.value = notebook.kept<LanguageChoice>(names.language) ?? 'auto'
  tones.value = notebook.kept<boolean>(names.tones) ?? true
  hand.value = notebook.kept<Hand>(names.hand) ?? 'right'
  bunchSize.value = notebook.kept<number>(names.bunch) ?? 10
  lengthsAsked.value = notebook.kept<LengthsAsked>(names.lengths)
  readKeys(notebook)
}

export async function setTheme(notebook: Notebook, value: Theme): Promise<void> {
  theme.value = value
  await notebook.keep(names.theme, value)
}

export async function setLanguage(notebook: Notebook, value: LanguageChoice): Promise<void> {
  languageChoice.value = value
  await notebook.keep(names.language, value)
}

export async function setTones(notebook: Notebook, value: boolean): Promise<void> {
  tones.value = value
  await notebook.keep(names.tones, value)
}

export async function setHand(notebook: Notebook, value: Hand): Promise<void> {
  hand.value = value
  await notebook.keep(names.hand, value)
}

export async function setBunchSize(notebook: Notebook, value: number): Promise<void> {
  bunchSize.value = value
  await notebook.keep(names.bunch, value)
}

/** Shows a further length class for the rest of a day. */
export async function askLength(notebook: Notebook, length: LengthClass, day: Day): Promise<void> {
  const before = lengthsAsked.peek()
  const asked = { day, lengths: [...(before?.day === day ? before.lengths : []), length] }
  lengthsAsked.value = asked
  await notebook.keep(names.lengths, asked)
}

/** Keeps the document's theme, language and hand as chosen; call once. */
export function dressDocument(): void {
  const dark = matchMedia('(prefers-color-scheme: dark)')
  const darkHere = signal(dark.matches)
  dark.addEventListener('change', () => { darkHere.value = dark.matches })
  effect(() => {
    const shown = theme.value === 'auto' ? (darkHere.value ? 'dark' : 'light') : theme.value
    const root = document.documentElement
    root.dataset['theme'] = shown
    root.dataset['hand'] = hand.value
    root.lang = language.value
    document.querySelector('meta[name=theme-color]')?.setAttribute('content', shown === 'dark' ? '#0e1411' : '#fbfaf4')
  })
}
