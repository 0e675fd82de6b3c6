// How availability is told, kept on this device: bunches of how many, for how many days, which columns, whose prices.

import { signal } from '@preact/signals'
import type { ChannelID } from '../crop/sale_nouns'
import { mostBunchStems } from '../crop/sale_nouns'
import type { Language } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { csvColumns, type CsvColumn } from './availability_csv'

export interface AvailabilitySettings {
  readonly days: number
  readonly bunch: number
  /** '' is without prices. */
  readonly channel: ChannelID | ''
  readonly columns: readonly CsvColumn[]
  /** Of the message; '' is as the app. */
  readonly language: Language | ''
}

export const daysChoices = [1, 3, 7] as const
const kept = 'availability.settings'
const atFirst: AvailabilitySettings = {
  days: 1, bunch: 10, channel: '', columns: ['day', 'colour', 'grade', 'length_from', 'length_unit', 'bunches', 'stems_per_bunch', 'price', 'currency'],
  language: '',
}

export const availabilitySettings = signal<AvailabilitySettings>(atFirst)

export function readAvailabilitySettings(notebook: Notebook): void {
  availabilitySettings.value = sound(notebook.kept<Partial<AvailabilitySettings>>(kept) ?? {})
}

/** What an earlier or later version kept is taken as far as it is understood. */
export function sound(told: Partial<AvailabilitySettings>): AvailabilitySettings {
  const columns = Array.isArray(told.columns) ? csvColumnsIn(told.columns) : []
  return {
    days: daysChoices.find((n) => n === told.days) ?? atFirst.days,
    bunch: told.bunch !== undefined && isBunch(told.bunch) ? told.bunch : atFirst.bunch,
    channel: typeof told.channel === 'string' ? told.channel : '',
    columns: columns.length > 0 ? columns : atFirst.columns,
    language: told.language === 'en' || told.language === 'es' ? told.language : '',
  }
}

export function isBunch(n: number): boolean {
  return Number.isInteger(n) && n >= 1 && n <= mostBunchStems
}

function csvColumnsIn(told: readonly unknown[]): CsvColumn[] {
  return [...new Set(told)].filter((one): one is CsvColumn => csvColumns.some((column) => column === one))
}

export function setAvailability(notebook: Notebook, part: Partial<AvailabilitySettings>): Promise<void> {
  const settings = { ...availabilitySettings.peek(), ...part }
  availabilitySettings.value = settings
  return notebook.keep(kept, settings)
}
