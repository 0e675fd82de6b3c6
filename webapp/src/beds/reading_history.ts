// The lines of a reading's history: who took it, who said another stage or light of it, took it away and brought it back.

import type { Farm } from '../crop/nouns'
import { fieldWithdrawn } from '../log/read'
import { hasMessage, t, tCode } from '../messages/messages'
import type { Happening } from '../sync/notebook'
import { type HistoryLine, whoAndWhen } from '../ui/visit_history'

/** What was told of a reading, the oldest first, in words. What was told as it was recorded is one line. */
export function readingLines(farm: Farm, told: readonly Happening[]): HistoryLine[] {
  const begun = told.find(({ field }) => field === 'lab')?.at ?? 0
  return told.flatMap((one) => {
    const text = textOf(one, begun)
    return text === undefined ? [] : [{ text, who: whoAndWhen(farm, one) }]
  })
}

function textOf({ field, value, at }: Happening, begun: number): string | undefined {
  if (field === 'lab') return t('reading.begun')
  if (at === begun) return undefined
  if (field === fieldWithdrawn) return t(value === 1 ? 'history.withdrawn' : 'history.restored')
  if (field !== 'stage' && field !== 'light') return undefined
  const word = `measuring.${field}.${value}`
  return hasMessage(word) ? t(`reading.said.${field}`, { word: tCode(word, {}) }) : undefined
}
