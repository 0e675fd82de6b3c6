// How order lines, colours and days of the week are put into words.

import type { ColourID, Farm, Millimetres, ToldGrade } from '../crop/nouns'
import type { Line, Weekdays } from '../crop/sale_nouns'
import { listed, listedOr, t, weekdayName } from '../messages/messages'
import { inUnit } from './lengths'

type Wish = Pick<Line, 'bunches' | 'stems' | 'grade' | 'length' | 'colours' | 'whole' | 'exact'>

/** "4 bunches of 10, first, 40 cm, ember or garnet". */
export function lineText(farm: Farm, line: Wish): string {
  const parts = [t('orders.line.bunches', { n: line.bunches, stems: line.stems }), ...qualityParts(farm, line), coloursText(farm, line.colours)]
  if (line.whole) parts.push(t('orders.line.whole'))
  if (line.exact) parts.push(t('orders.line.exact'))
  return parts.join(', ')
}

/** What a stem must be at least: "first, 40 cm"; '' where it may be any. */
export function qualityText(farm: Farm, wish: { readonly grade: ToldGrade; readonly length: Millimetres }): string {
  return qualityParts(farm, wish).join(', ')
}

function qualityParts(farm: Farm, { grade, length }: { readonly grade: ToldGrade; readonly length: Millimetres }): string[] {
  const parts = grade === '' ? [] : [t(`grade.${grade}`)]
  return length === 0 ? parts : [...parts, leastLength(farm, length)]
}

function leastLength(farm: Farm, length: Millimetres): string {
  return t(farm.unit === 'in' ? 'length.in' : 'length.cm', { lo: inUnit(length, farm.unit) })
}

/** "ember or garnet"; none is any colour. */
export function coloursText(farm: Farm, colours: readonly ColourID[]): string {
  return colours.length === 0 ? t('orders.line.any_colour') : listedOr(colours.map((id) => colourCalled(farm, id)))
}

export function colourCalled(farm: Farm, id: ColourID | ''): string {
  return (id === '' ? undefined : farm.colours.get(id)?.name) ?? t('colour.unknown')
}

/** "Mon, Wed and Fri"; none is any day. */
export function weekdaysText(days: Weekdays): string {
  return days === '' ? t('orders.weekday.any') : listed([...days].map((digit) => weekdayName(Number(digit))))
}
