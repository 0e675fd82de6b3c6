// Lines and bunches in words.

import { type ColourID, type Farm, type Millimetres, openEnd } from '../crop/nouns'
import type { Line } from '../crop/sale_nouns'
import { count, listed, listedOr, t } from '../messages/messages'
import { OverTheMost, ChangedSince } from '../ui/taps'
import { lengthName } from '../ui/lengths'
import { lotWritten } from '../ui/lot_words'
import { colourCalled } from '../ui/sale_words'
import { failureText } from '../ui/words'
import { NotPacked } from './packer'

/** Of what a line's stems must at least be: "ember or coral, first, 50+ cm". */
export function kindWritten(farm: Farm, { grade, length, whole }: Pick<Line, 'grade' | 'length' | 'whole'>, colours: readonly ColourID[]): string {
  const parts = [
    ...(colours.length > 0 ? [listedOr(colours.map((id) => colourCalled(farm, id)))] : []),
    ...(grade === '' ? [] : [t(`grade.${grade}`)]),
    ...(length === 0 ? [] : [lengthName({ lo: length, hi: openEnd as Millimetres }, farm.unit)]),
  ]
  const kind = parts.length > 0 ? parts.join(', ') : t('packing.kind.any')
  return whole ? `${kind}, ${t('packing.kind.whole')}` : kind
}

/** "6 of ember, first, 50 cm, Elder, cut Tue 2 June and 4 of …". */
export function drawnWritten(farm: Farm, stems: Iterable<readonly [string, number]>): string {
  return listed([...stems].flatMap(([cell, n]) => (n > 0 ? [t('packing.from', { n, lot: lotWritten(farm, cell) })] : [])))
}

/** So many lots of a bunch are named where there is little room. */
const named = 3

/** The same in few words: those lots of which most is taken, and how much of how many others. */
export function drawnBriefly(farm: Farm, stems: Iterable<readonly [string, number]>): string {
  const most = [...stems].filter(([, n]) => n > 0).sort((a, b) => b[1] - a[1])
  if (most.length <= named + 1) return drawnWritten(farm, most)
  const rest = most.slice(named)
  return t('packing.from.more', {
    lots: most.slice(0, named).map((one) => drawnWritten(farm, [one])).join(', '), n: rest.length, stems: count(rest.reduce((sum, [, n]) => sum + n, 0)),
  })
}

/** The colour that a line is known by: the first asked for. */
export function swatchOfLine(farm: Farm, line: Line): string {
  const first = line.colours[0]
  return (first === undefined ? undefined : farm.colours.get(first)?.swatch) ?? ''
}

export function notPackedText(reason: unknown): string {
  if (reason instanceof NotPacked) return t(`packing.fail.${reason.why}`)
  if (reason instanceof ChangedSince) return t('packing.fail.changed')
  if (reason instanceof OverTheMost) return t('packing.fail.most', { most: reason.most })
  return failureText(reason)
}
