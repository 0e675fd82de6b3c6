// What a person saw stored on one phone, and what must have become of it in the end.

import { ownCount } from '../src/log/count'
import type { Entity } from '../src/log/state'

/** Whether a record was seen stored; one under way when the phone was killed may be either. */
export type Seen = 'stored' | 'not_stored' | 'unknown'

/** Something of which there is but one: an element of a set, or a correction by its saw and value. */
interface Single {
  readonly entity: string
  readonly what: string
  readonly isThere: (entity: Entity | undefined) => boolean
  seen: Seen
}

export class Ledger {
  /** Numbers that a count cell may hold: the last one seen stored, and what may have been stored since. */
  private readonly counts = new Map<string, { readonly visit: string; readonly cell: string; readonly may: Set<number> }>()
  private readonly singles: Single[] = []
  /** Visits whose number the shed refuses, by whether they were seen stored. */
  readonly refused = new Map<string, Seen>()

  counted(visit: string, cell: string, n: number, seen: Seen): void {
    const key = `${visit} ${cell}`
    const may = this.counts.get(key)?.may ?? new Set([0])
    if (seen === 'stored') may.clear()
    if (seen !== 'not_stored') may.add(n)
    this.counts.set(key, { visit, cell, may })
  }

  added(entity: string, element: string, field: string, seen: Seen): void {
    const slot = `member\0${field}\0${element}`
    this.singles.push({ entity, what: `element ${element}`, seen, isThere: e => e?.slots.get(slot)?.entry.op === 'add' })
  }

  corrected(visit: string, cell: string, by: number, saw: number, seen: Seen): void {
    const isThere = (e: Entity | undefined) => [...(e?.slots.values() ?? [])].some(({ key, entry }) =>
      key.op === 'correct' && key.field === cell && entry.value === by && entry.extra?.['saw'] === saw)
    this.singles.push({ entity: visit, what: `correction of ${cell} by ${by}`, seen, isThere })
  }

  /** What is not as it should be in the farm that a fresh phone reads. */
  wrongs(incarnation: string, named: (type: string, id: string) => Entity | undefined): string[] {
    const wrongs: string[] = []
    for (const { visit, cell, may } of this.counts.values()) {
      const entity = named('visit', visit)
      const stands = entity ? ownCount(entity, cell, incarnation) : 0
      if (!may.has(stands)) wrongs.push(`count ${cell} of visit ${visit} is ${stands}, may be ${[...may].join(' or ')}`)
    }
    for (const { entity, what, seen, isThere } of this.singles) {
      const [type, id] = entity.split('/') as [string, string]
      const there = isThere(named(type, id))
      if (seen === 'stored' && !there) wrongs.push(`${what} of ${entity} was stored and is gone`)
      if (seen === 'not_stored' && there) wrongs.push(`${what} of ${entity} was not stored and is there`)
    }
    for (const visit of this.refused.keys()) {
      if (named('visit', visit)) wrongs.push(`visit ${visit} was to be refused and is there`)
    }
    return wrongs
  }
}
