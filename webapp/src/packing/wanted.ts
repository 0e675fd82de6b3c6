// What may go to a line of an order. Mirrors internal/selling/supply.go, but for a channel's floors: those are money, so
// that a device of crew, which knows none, asks for none.

import { gradesHighToLow, type ColourID, type ToldGrade } from '../crop/nouns'
import type { Buyer, Channel, Line, LotID } from '../crop/sale_nouns'

/** The colour classes that a line may have, with those that its buyer takes instead unless it is exact; none is any. */
export function takenFor(line: Pick<Line, 'colours' | 'exact'>, buyer: Pick<Buyer, 'accepts'> | undefined): readonly ColourID[] {
  if (line.exact) return line.colours
  return [...new Set([...line.colours, ...line.colours.flatMap((asked) => buyer?.accepts.get(asked) ?? [])])]
}

/** What was not told of a lot meets only what is not asked. */
export function meets(lot: LotID, asked: Pick<Line, 'grade' | 'length'>, colours: readonly ColourID[]): boolean {
  const good = asked.grade === '' || rank(lot.grade) >= rank(asked.grade)
  return good && lot.length.lo >= asked.length && (colours.length === 0 || (lot.colour !== '' && colours.includes(lot.colour)))
}

/** Whether a line pays its channel's floor for every stem of a grade; a line without a price pays what is agreed later. */
export function paysFor(grade: ToldGrade, line: Pick<Line, 'price' | 'stems'>, channel: Pick<Channel, 'floor'> | undefined): boolean {
  const floor = grade === '' ? 0 : channel?.floor.get(grade) ?? 0
  return line.price === 0 || floor * line.stems <= line.price
}

/** Higher is better; below all where it is untold. */
function rank(grade: ToldGrade): number {
  return grade === '' ? -1 : gradesHighToLow.length - gradesHighToLow.indexOf(grade)
}
