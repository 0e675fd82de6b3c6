// What the shed has told: the confirmed state, and which of the phone's own changes it turns out to
// hold under another identity.

import type { Change, Stamp } from '../log/change'
import { factsOf, firstIdentity, identityOf, splitIdentity } from '../log/identity'
import { State } from '../log/state'

export class Told {
  readonly state = new State()
  /** Changes first framed under a former incarnation of this phone, by that first identity. */
  private readonly formers = new Map<string, Change[]>()

  /** Takes a confirmed change in; formers are the phone's earlier incarnations. */
  take(change: Change, order: Stamp, formers: readonly string[]): void {
    this.state.merge(change, order)
    if (formers.length === 0) return
    const first = firstIdentity(change)
    if (!formers.includes(splitIdentity(first)?.incarnation ?? '')) return
    const same = this.formers.get(first)
    if (same) same.push(change)
    else this.formers.set(first, [change])
  }

  /**
   * Tells whether the shed holds what this change says under another identity that was first framed
   * as the same: then it settles the change without keeping it twice.
   */
  holdsOtherwise(change: Change): boolean {
    const own = identityOf(change.incarnation, change.seq)
    const candidates = this.formers.get(firstIdentity(change)) ?? []
    return candidates.some(c => identityOf(c.incarnation, c.seq) !== own && factsOf(c) === factsOf(change))
  }
}
