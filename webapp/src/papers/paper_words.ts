// How papers name what was ordered and the lots that it was packed of.

import type { ColourID, Day, Farm, LengthUnit, Millimetres, ToldGrade } from '../crop/nouns'
import type { Line, LotID } from '../crop/sale_nouns'
import { dayAndMonth, t } from '../messages/messages'
import { inUnit } from '../ui/lengths'
import { bedName } from '../ui/lot_words'
import type { PackedLine } from './day_papers'

export function colourNamed(farm: Farm, id: ColourID | ''): string {
  return (id === '' ? undefined : farm.colours.get(id)?.name) ?? t('papers.colour.untold')
}

export function gradeNamed(grade: ToldGrade): string {
  return grade === '' ? t('grade.untold') : t(`grade.${grade}`)
}

function leastLength(length: Millimetres, unit: LengthUnit): string {
  return t(unit === 'in' ? 'length.in' : 'length.cm', { lo: inUnit(length, unit) })
}

/** What a line asks for: "ember or coral, first, 40 cm". */
export function lineWords(farm: Farm, line: Line): string {
  const colours = line.colours.length === 0 ? t('papers.any_colour') : line.colours.map((id) => colourNamed(farm, id)).join(` ${t('papers.or')} `)
  const grade = line.grade === '' ? [] : [t(`grade.${line.grade}`)]
  const length = line.length === 0 ? [] : [leastLength(line.length, farm.unit)]
  return [colours, ...grade, ...length].join(', ')
}

/** What is in the bunches of a line: the colours that were packed, and what was asked for beside. */
export function packedWords(farm: Farm, packed: PackedLine): string {
  if (packed.lots.length === 0) return packed.line ? lineWords(farm, packed.line) : t('papers.line.gone')
  const colours = [...new Set(packed.lots.map(({ lot }) => colourNamed(farm, lot.colour)))].join(' + ')
  const { line } = packed
  if (!line) return [colours, t('papers.line.gone')].join(', ')
  const grade = line.grade === '' ? [] : [t(`grade.${line.grade}`)]
  const length = line.length === 0 ? [] : [leastLength(line.length, farm.unit)]
  return [colours, ...grade, ...length].join(', ')
}

/** A lot as it is found in the cooler: "Elder, cut 28 Nov". */
export function lotPlace(farm: Farm, lot: LotID): string {
  return t('papers.lot', { bed: bedName(farm, lot.bed), day: dayAndMonth(lot.cut) })
}

/** The places of a line's lots, each once. */
export function lotPlaces(farm: Farm, packed: PackedLine): string[] {
  return [...new Set(packed.lots.map(({ lot }) => lotPlace(farm, lot)))]
}

export function dayOrNone(day: Day | ''): string {
  return day === '' ? '' : dayAndMonth(day)
}
