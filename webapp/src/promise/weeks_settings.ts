// How the coming weeks are offered, kept on this device: how many, tied by which rules, whose prices, in which language.

import { signal } from '@preact/signals'
import type { BunchID, ChannelID } from '../crop/sale_nouns'
import type { Language } from '../messages/messages'
import type { Notebook } from '../sync/notebook'

export interface WeeksSettings {
  readonly weeks: number
  /** Rules that are not offered. */
  readonly without: readonly (BunchID | '')[]
  /** '' is without prices. */
  readonly channel: ChannelID | ''
  /** Of the message; '' is as the app. */
  readonly language: Language | ''
}

export const weeksChoices = [2, 4, 8] as const
const kept = 'weeks.settings'
const atFirst: WeeksSettings = { weeks: 4, without: [], channel: '', language: '' }

export const weeksSettings = signal<WeeksSettings>(atFirst)

export function readWeeksSettings(notebook: Notebook): void {
  weeksSettings.value = sound(notebook.kept<Partial<WeeksSettings>>(kept) ?? {})
}

/** What an earlier or later version kept is taken as far as it is understood. */
export function sound({ weeks, without, channel, language }: Partial<WeeksSettings>): WeeksSettings {
  return {
    weeks: weeksChoices.find((n) => n === weeks) ?? atFirst.weeks,
    without: Array.isArray(without) ? without.filter((one): one is BunchID => typeof one === 'string') : [],
    channel: typeof channel === 'string' ? channel : '',
    language: language === 'en' || language === 'es' ? language : '',
  }
}

export function setWeeks(notebook: Notebook, part: Partial<WeeksSettings>): Promise<void> {
  const settings = { ...weeksSettings.peek(), ...part }
  weeksSettings.value = settings
  return notebook.keep(kept, settings)
}
