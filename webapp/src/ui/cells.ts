// A visit's counts under their cells' names, put into words.

import { bedCell, plantCell } from '../crop/facts'
import { type Count, type Farm, mostBenchStems, mostStems, type Visit } from '../crop/nouns'
import { t } from '../messages/messages'
import { lengthName } from './lengths'

export function cellOf(visit: Visit, count: Count): string {
  return visit.plant === '' ? bedCell(count.colour, count.grade, count.length) : plantCell(count.grade, count.length)
}

export function mostOf(visit: Visit): number {
  return visit.plant === '' ? mostBenchStems : mostStems
}

/** "rosehip, extra, 50 cm", each part only where it was told; "stems" where none was. */
export function cellName(farm: Farm, count: Omit<Count, 'stems'>): string {
  const parts: string[] = []
  const colour = count.colour === '' ? undefined : farm.colours.get(count.colour)
  if (colour) parts.push(colour.name)
  if (count.grade !== '') parts.push(t(`grade.${count.grade}`))
  if (count.length.hi > 0) parts.push(lengthName(count.length, farm.unit))
  return parts.length > 0 ? parts.join(', ') : t('cell.ungraded')
}
