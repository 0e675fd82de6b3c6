// The lines of a visit's history: who counted, corrected, said otherwise how it was cut, moved, withdrew
// and brought back, and when.

import { parseCell } from '../crop/cells'
import { parseDay } from '../crop/day'
import type { Day, Farm, PersonID } from '../crop/nouns'
import { fieldWithdrawn } from '../log/read'
import { dayName, momentName, t } from '../messages/messages'
import type { Happening } from '../sync/notebook'
import { cellName } from './cells'
import { today } from './today'

export interface HistoryLine {
  readonly text: string
  /** "Ana · 3 June, 10:12" */
  readonly who: string
}

/** What was told of a visit, the oldest first, in words. */
export function historyLines(farm: Farm, told: readonly Happening[]): HistoryLine[] {
  const begun = told.find(({ field }) => field === 'purpose')?.at ?? 0
  return told.flatMap((one) => {
    const text = textOf(farm, one, begun)
    return text === undefined ? [] : [{ text, who: whoAndWhen(farm, one) }]
  })
}

export function whoAndWhen(farm: Farm, { person, at }: Happening): string {
  const name = farm.people.get(person as PersonID)?.name
  return [name, momentName(at)].filter(Boolean).join(' · ')
}

/** What happened in words; undefined for what only begins a visit. */
function textOf(farm: Farm, one: Happening, begun: number): string | undefined {
  const { op, field, value, before, after, at } = one
  const cell = parseCell(field)
  if (cell && op === 'count' && typeof value === 'number') return t('history.count', { cell: cellName(farm, cell), n: value })
  if (cell && op === 'correct') return t('history.correct', { cell: cellName(farm, cell), before, after })
  if (op === 'set' && field === 'purpose') return t('history.begun')
  if (field === 'beside') return t(op === 'add' ? 'history.beside' : 'history.beside.off')
  // Also as the visit was begun: what is put right before it was sent travels as if said at once.
  if (op === 'set' && field === 'to_order') return t(value === 1 ? 'history.cut.order' : 'history.cut.clean')
  if (op !== 'set' || at === begun) return undefined
  if (field === fieldWithdrawn) return t(value === 1 ? 'history.withdrawn' : 'history.restored')
  if (field === 'date') return t('history.date', { day: dayName(parseDay(String(value)) ?? ('' as Day), today.value) })
  if (field === 'flush' && (value === 'spring' || value === 'fall')) return t('history.flush', { flush: t(`flush.${value}`) })
  return undefined
}
