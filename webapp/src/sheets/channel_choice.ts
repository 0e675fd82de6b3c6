// What a channel's name in a sheet stands for where the farm has none of that name.

import type { ChannelID, ChannelKind } from '../crop/sale_nouns'
import { parseAmount } from '../ui/money'
import { nameKey } from './plan'

/** One that the farm has, or a new one and what it keeps, as it is typed in percent. */
export type ChannelChoice = { readonly channel: ChannelID } | { readonly kind: ChannelKind; readonly percent: string }

/** By `nameKey`. */
export type ChannelChoices = ReadonlyMap<string, ChannelChoice>

/** Hundredths of a percent; '' is none, and undefined what is no percentage. */
export function readPercent(text: string): number | undefined {
  if (text.trim() === '') return 0
  const hundredths = parseAmount(text)
  return hundredths === undefined || hundredths > 10_000 ? undefined : hundredths
}

/** Whether each of these names was told, and can be read. */
export function allTold(names: readonly string[], choices: ChannelChoices): boolean {
  return names.every((name) => {
    const choice = choices.get(nameKey(name))
    return choice !== undefined && ('channel' in choice || readPercent(choice.percent) !== undefined)
  })
}
