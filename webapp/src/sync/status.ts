// How the sync stands, for the screen.

import { backedUp } from './backed_up'
import type { Book } from './book'
import type { SyncStatus } from './notebook'
import type { Session } from './session'

export function statusOf(book: Book, session: Session): SyncStatus {
  const { incarnation, settled } = book.pen
  const unsent = book.own.countBeyond(incarnation, session.sentTo)
  return {
    link: session.link,
    pending: book.drafts.size + unsent,
    sent: book.own.countBeyond(incarnation, settled) - unsent,
    acknowledged: session.progress.confirmed,
    refused: book.refused().map(({ change: { seq, type, id, field, value }, code }) => ({ seq, code, type, id, field, value })),
    notKept: [...book.own.refused()].length,
    progress: session.progress.reading,
    outgoing: session.progress.sending,
    levelAt: Math.max(session.progress.levelAt, book.reading.levelAt),
    clockOffset: session.clockOffset,
    backedUp: backedUp(book),
    refusal: session.refusal,
  }
}
