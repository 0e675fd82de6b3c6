// What was asked for and not promised, by week and colours: the demand that the division plan goes by.

import { type Ask, type AskID, unmetStems } from './ahead_nouns'
import { mondayOf } from './due'
import type { ColourID, Day } from './nouns'

export interface Unmet {
  /** The week's Monday. */
  readonly week: Day
  /** As they were asked for together; none is any. */
  readonly colours: readonly ColourID[]
  readonly stems: number
  readonly asks: readonly AskID[]
}

/** By week, in each those first of which most was asked. Stems of several colours are told once, under all of them. */
export function unmetByWeek(asks: Iterable<Ask>): Unmet[] {
  const found = new Map<string, Unmet>()
  for (const ask of asks) {
    const stems = unmetStems(ask)
    if (stems === 0) continue
    const week = mondayOf(ask.from)
    const colours = [...ask.colours].sort()
    const key = `${week}|${colours.join()}`
    const before = found.get(key)
    found.set(key, { week, colours, stems: stems + (before?.stems ?? 0), asks: [...before?.asks ?? [], ask.id] })
  }
  return [...found.values()].sort((a, b) => a.week.localeCompare(b.week) || b.stems - a.stems)
}
