// What the ids of this phone's visits were derived from: with that, they need no room in a push.

import { originOfVisit } from '../crop/cells'
import { readVisit } from '../crop/read'
import type { Change } from '../log/change'
import type { Origin } from '../log/origin'
import type { Book } from './book'

/** Incarnations tried for an id: each costs a hash. */
const tries = 4

export class OriginFinder {
  private readonly found = new Map<string, Origin | undefined>()

  constructor(private readonly book: Book) {}

  of(changes: readonly Change[]): Map<string, Origin> {
    const origins = new Map<string, Origin>()
    for (const change of changes) {
      if (change.type !== 'visit') continue
      if (!this.found.has(change.id)) this.found.set(change.id, this.find(change))
      const origin = this.found.get(change.id)
      if (origin) origins.set(change.id, origin)
    }
    return origins
  }

  /** From what the visit itself says. What cannot be found out travels as the id that it is. */
  private find({ id, incarnation, person }: Change): Origin | undefined {
    const entity = this.book.entity('visit', id)
    if (!entity) return undefined
    const { formers, incarnation: present } = this.book.pen
    const writers = [...new Set([incarnation, present, ...formers])].slice(0, tries)
    return originOfVisit(readVisit(entity), writers, person)
  }
}
