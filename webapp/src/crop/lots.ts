// Lots: the stems of a bed, cut day, colour class, grade and length class. Mirrors internal/farm/sale_schema.go.

import { bedCell, parseCell } from './cells'
import { parseDay } from './day'
import type { BedID } from './nouns'
import type { LotID } from './sale_nouns'

/** Names a lot: "bed|2026-06-03|colour|first|400|500". */
export function lotCell(lot: LotID): string {
  return `${lot.bed}|${lot.cut}|${bedCell(lot.colour, lot.grade, lot.length)}`
}

/** Reads a lot's name; undefined where it is none, or not written as it should be. */
export function parseLotCell(name: string): LotID | undefined {
  const [bed, day, ...rest] = name.split('|')
  const cut = parseDay(day ?? '')
  const cell = parseCell(rest.join('|'))
  if (bed === undefined || !cut || !cell?.ofBed) return undefined
  return { bed: bed as BedID | '', cut, colour: cell.colour, grade: cell.grade, length: cell.length }
}
