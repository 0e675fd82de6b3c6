// What a plan takes to be wanted, as the grower changes it.

import type { AskID } from '../crop/ahead_nouns'
import type { Wanted } from './division_answer'

/** Whether all asks of a week and colours are left out: one that another device told since is not left out with them. */
export function isLeftOut(asks: readonly AskID[], leftOut: readonly AskID[]): boolean {
  return asks.every((id) => leftOut.includes(id))
}

export function leaving(leftOut: readonly AskID[], asks: readonly AskID[], out: boolean): readonly AskID[] {
  return [...leftOut.filter((id) => !asks.includes(id)), ...out ? asks : []]
}

/** Stems of the same week and colour class are told anew. */
export function withWanted(wanted: readonly Wanted[], one: Wanted): readonly Wanted[] {
  const others = wanted.filter(({ due, colour }) => due !== one.due || colour !== one.colour)
  return [...others, one].sort((a, b) => a.due.localeCompare(b.due) || a.colour.localeCompare(b.colour))
}
