// Lots and their stems in words.

import { dueOf } from '../crop/due'
import { parseLotCell } from '../crop/lots'
import type { BedID, Day, Farm } from '../crop/nouns'
import { knownLine } from '../crop/once_ordered'
import { lineOf } from '../crop/over_packed'
import type { BuyerID, Line, LineID, LotID } from '../crop/sale_nouns'
import { count, dayName, listed, t } from '../messages/messages'
import { cellName } from './cells'
import { inUnit } from './lengths'
import { today } from './today'

/** "ember, first, 50 cm" */
export function lotName(farm: Farm, lot: LotID): string {
  return cellName(farm, lot)
}

/** "Bed 4, cut Tue 2 June" */
export function lotWhence(farm: Farm, { bed, cut }: LotID): string {
  return t('lot.whence', { bed: bedName(farm, bed), day: dayName(cut, today.value) })
}

/** Both, of a lot's cell. */
export function lotWritten(farm: Farm, cell: string): string {
  const lot = parseLotCell(cell)
  return lot ? t('lot.written', { lot: lotName(farm, lot), whence: lotWhence(farm, lot) }) : cell
}

export function bedName(farm: Farm, bed: BedID | ''): string {
  const known = bed === '' ? undefined : farm.beds.get(bed) ?? farm.withdrawn.beds.get(bed)
  return known?.name ?? t('bed.unknown')
}

export function lotSwatch(farm: Farm, lot: LotID | undefined): string {
  return (lot && lot.colour !== '' && farm.colours.get(lot.colour)?.swatch) || ''
}

/** Stems of a bunch, in which all sums of the cooler are told. */
const tied = 10

/** "12 bunches of ten and 3", or "3 loose stems". */
export function inTens(stems: number): string {
  const loose = stems % tied
  const bunches = Math.floor(stems / tied)
  if (bunches === 0) return t('tens.loose', { n: loose })
  return loose === 0 ? t('tens', { n: bunches }) : t('tens.and', { bunches: t('tens', { n: bunches }), loose: count(loose) })
}

/** A buyer's name, also of one that was deleted. */
export function buyerWritten(farm: Farm, id: BuyerID): string {
  const buyer = farm.sales.buyers.get(id)
  if (buyer) return buyer.name
  const gone = farm.sales.goneBuyers.get(id)
  return gone ? t('buyer.gone', { name: gone.name }) : t('buyer.unknown')
}

/** What a line orders: "6 bunches of 10, first, from 40 cm: ember, coral"; of one that nobody orders any more, that it did. */
export function lineWritten(farm: Farm, id: LineID): string {
  const words = lineWords(farm, id)
  return lineOf(farm.sales, id) || !knownLine(farm.sales, id) ? words : t('line.once', { line: words })
}

/** What a line orders, or ordered when it still did. */
export function lineWords(farm: Farm, id: LineID): string {
  const line = knownLine(farm.sales, id)
  return line ? lineSaid(farm, line) : t('line.gone')
}

function lineSaid(farm: Farm, line: Line): string {
  const from = line.length > 0 ? t(farm.unit === 'in' ? 'line.from.in' : 'line.from.cm', { lo: inUnit(line.length, farm.unit) }) : ''
  const what = [line.grade && t(`grade.${line.grade}`), from].filter(Boolean).join(', ')
  const colours = line.colours.length === 0 ? t('line.any_colour') : listed(line.colours.map((colour) => farm.colours.get(colour)?.name ?? t('line.other_colour')))
  return t('line.written', { bunches: t('line.bunches', { n: line.bunches, stems: line.stems }), what: what === '' ? '' : `, ${what}`, colours })
}

/** The day on which a line is due, as its delivery says; '' where nobody orders it any more. */
export function dueDay(farm: Farm, id: LineID): Day | '' {
  const line = lineOf(farm.sales, id)
  return (line && line.order !== '' && dueOf(farm.sales, line.order)?.day) || ''
}
