// The cut list put into words.

import type { ColourCut, CutList, CutRow } from '../crop/cut_list'
import type { LineLack } from '../crop/cut_plan'
import { buyerName } from '../crop/due'
import type { Least } from '../crop/line_needs'
import { type Day, type Farm, openEnd } from '../crop/nouns'
import { dayName, listed, t } from '../messages/messages'
import { lengthName } from '../ui/lengths'
import { colourCalled } from '../ui/sale_words'

/** A length is read in one. */
const noBreak = '\u00a0'

/** "first or better, 60+ cm", each part only where it is asked. */
export function leastName(farm: Farm, { grade, length }: Least): string {
  const parts: string[] = []
  if (grade === 'extra') parts.push(t('grade.extra'))
  else if (grade !== '') parts.push(t('cuts.grade', { grade: t(`grade.${grade}`) }))
  if (length > 0) parts.push(lengthName({ lo: length, hi: openEnd }, farm.unit).replace(' ', noBreak))
  return parts.length > 0 ? parts.join(', ') : t('cuts.any')
}

/** "Enough ember: 124 of 120. Leave the rest standing."; of a bed where others still lack some. */
export function enoughText(farm: Farm, list: CutList, row: CutRow): string {
  const colour = colourCalled(farm, row.colour)
  const all = list.colours.get(row.colour) ?? noneAsked
  if (all.asked === 0) return t('cuts.enough.unneeded', { colour })
  if (all.left === 0) return t('cuts.enough', { colour, cut: all.cut, asked: all.asked })
  if (row.asked === 0) return t('cuts.enough.others', { colour })
  return t('cuts.enough.bed', { colour, cut: row.cut, asked: row.asked })
}

const noneAsked: ColourCut = { asked: 0, cut: 0, left: 0 }

/** "Nobody has standing oyster of 60+ cm: 20 stems short for Studio Nord, Thu 4 June." */
export function shortText(farm: Farm, { need, stems }: LineLack, today: Day): string {
  const what = need.colours.length === 0 ? t('cuts.short.any') : listed(need.colours.map((colour) => colourCalled(farm, colour)))
  const least = need.grade === '' && need.length === 0 ? '' : leastName(farm, need)
  const whom = { buyer: buyerName(farm.sales, need.buyer), day: dayName(need.due, today) }
  return least === '' ? t('cuts.short', { what, n: stems, ...whom }) : t('cuts.short.least', { what, least, n: stems, ...whom })
}
