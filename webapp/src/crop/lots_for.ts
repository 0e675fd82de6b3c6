// Which lots of the cooler a line takes.

import { type FreshLot, sellableOn } from './fresh_lots'
import { type LineNeed, meets } from './line_needs'
import type { ColourID } from './nouns'
import type { Sales } from './sale_nouns'

/** What was asked for, and what the buyer takes instead: stems go in this order. */
export const colourKinds = ['colours', 'instead'] as const

/** The places of the lots whose stems a line takes, in their order. */
export function lotsFor(sales: Sales, need: LineNeed, lots: readonly Pick<FreshLot, 'id'>[], which: (typeof colourKinds)[number]): number[] {
  const takes = (colour: ColourID | '') => (which === 'colours' && need.colours.length === 0) || (colour !== '' && need[which].includes(colour))
  return [...lots.keys()].filter((i) => {
    const { colour, grade, length } = lots[i]!.id
    return takes(colour) && meets(need, grade, length) && sellableOn(sales, lots[i]!.id, need.on)
  })
}
