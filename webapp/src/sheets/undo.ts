// What takes an import back by the time it is undone: a bed, stock, colour class, person, buyer or channel that it made
// stays where something else has come to it since.

import type { Farm } from '../crop/nouns'
import type { Fact } from '../log/change'
import { fieldWithdrawn } from '../log/read'

/** Types of what others point to. */
const shared = new Set(['planting', 'bed', 'stock', 'colour', 'person', 'buyer', 'channel'])

export function undoNow(farm: Farm, undo: readonly Fact[]): Fact[] {
  const going = new Set(undo.filter(({ field, value }) => field === fieldWithdrawn && value === 1).map(({ type, id }) => `${type} ${id}`))
  const used = usedByOthers(farm, going)
  return undo.filter(({ type, id, field }) => !(field === fieldWithdrawn && shared.has(type) && used.has(`${type} ${id}`)))
}

/** What is pointed to by something that does not go. */
function usedByOthers(farm: Farm, going: ReadonlySet<string>): Set<string> {
  const used = new Set<string>()
  const each = <T>(type: string, all: ReadonlyMap<string, T>, points: (one: T) => readonly (readonly [string, string])[]) => {
    for (const [id, one] of all) {
      if (!going.has(`${type} ${id}`) || used.has(`${type} ${id}`)) for (const [to, other] of points(one)) used.add(`${to} ${other}`)
    }
  }
  const { sales, ahead, money } = farm
  each('visit', farm.visits, ({ bed, planting, person, counts }) => [['bed', bed], ['planting', planting], ['person', person], ...counts.map(({ colour }) => ['colour', colour] as const)])
  each('event', farm.events, ({ bed, person }) => [['bed', bed], ['person', person]])
  each('reading', farm.readings, ({ person }) => [['person', person]])
  each('plant', farm.plants, ({ planting, bed, colour, colours, places, stood }) => [
    ['planting', planting], ['bed', bed], ['colour', colour], ...[...colours.values()].map(({ what }) => ['colour', what] as const), ...[...places, ...stood].map((place) => ['bed', place.bed] as const),
  ])
  each('planting', farm.plantings, ({ stock, bed }) => [['stock', stock], ['bed', bed]])
  each('stock', farm.stocks, ({ from }) => [['stock', from]])
  each('line', sales.lines, ({ colours }) => colours.map((colour) => ['colour', colour] as const))
  each('price', sales.prices, ({ channel, buyer, colour }) => [['channel', channel], ['buyer', buyer], ['colour', colour]])
  each('order', sales.orders, ({ buyer }) => [['buyer', buyer]])
  each('standing', sales.standings, ({ buyer }) => [['buyer', buyer]])
  each('claim', sales.claims, ({ buyer, person }) => [['buyer', buyer], ['person', person]])
  each('invoice', sales.invoices, ({ buyer }) => [['buyer', buyer]])
  each('packed', sales.packed, ({ buyer, person }) => [['buyer', buyer], ['person', person]])
  each('shrink', sales.shrink, ({ person }) => [['person', person]])
  each('cost', money.costs, ({ bed, stock, channel }) => [['bed', bed], ['stock', stock], ['channel', channel]])
  each('work', money.work, ({ bed, person, channel }) => [['bed', bed], ['person', person], ['channel', channel]])
  each('statement', money.statements, ({ channel }) => [['channel', channel]])
  each('ask', ahead.asks, ({ buyer, person, colours }) => [['buyer', buyer], ['person', person], ...colours.map((colour) => ['colour', colour] as const)])
  each('task', ahead.tasks, ({ bed, person }) => [['bed', bed], ['person', person]])
  each('buyer', sales.buyers, ({ channel, accepts }) => [['channel', channel], ...[...accepts].flatMap(([asked, others]) => [asked, ...others].map((colour) => ['colour', colour] as const))])
  return used
}
