// How the sync stands, for the screen.

import type { Book } from './book'
import type { SyncStatus } from './notebook'
import type { Session } from './session'
import { unsettled } from './settling'

export function statusOf(book: Book, session: Session): SyncStatus {
  let pending = 0
  let sent = 0
  for (const { facts } of book.drafts.values()) pending += facts.length
  for (const { changes } of unsettled(book)) {
    for (const { seq } of changes) {
      if (seq <= book.pen.settled) continue
      if (seq <= session.sentTo) sent++
      else pending++
    }
  }
  return {
    link: session.link,
    pending,
    sent,
    acknowledged: session.acknowledged,
    refused: book.refused().map(({ change: { seq, type, id, field, value }, code }) => ({ seq, code, type, id, field, value })),
    progress: session.progress,
    levelAt: Math.max(session.levelAt, book.reading.levelAt),
    clockOffset: session.clockOffset,
    refusal: session.refusal,
  }
}
