// What the shed says of its backups (PROTOCOL.md, section 5, 9.). It is kept and shown; nothing is let go
// of for it yet.

import type { Write } from '../db/records'
import type { Book } from './book'

/** Kept under this name while the shed has said something of a backup. */
const keptBackedUp = 'sync.backed_up'

/** A good backup holds the shed's log up to an arrival number, in an epoch. */
export interface BackedUp {
  readonly epoch: string
  readonly arrival: number
  /** When the phone first heard so, ms since 1970 by its own clock. */
  readonly heardAt: number
}

/** What the shed said last; undefined where it never had a backup, or has none any more. */
export function backedUp(book: Book): BackedUp | undefined {
  const said = book.kept.get(keptBackedUp) as BackedUp | undefined
  return said && said.arrival > 0 ? said : undefined
}

/** The last word counts: 0 takes back what was said before. */
export function planBackedUp(book: Book, epoch: string, arrival: number, wall: number): Write[] {
  const before = backedUp(book)
  if (before ? before.epoch === epoch && before.arrival === arrival : arrival === 0) return []
  const value: BackedUp = { epoch, arrival, heardAt: wall }
  return [{ kind: 'kept', name: keptBackedUp, value }]
}
