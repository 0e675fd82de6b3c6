// What was recorded here and is not confirmed, laid over the confirmed state. It is kept apart
// because it can go again: a stamp is only a provisional order, and a change may be refused.

import type { Change, Stamp } from '../log/change'
import type { Entity, EntityKey, State } from '../log/state'
import { entityName, entryOf, newEntity, putEntry, slotOf } from '../log/state'

/** An operation that lies over the state, by whatever name its owner gives it. */
export type Source = string

export interface Laid {
  readonly change: Change
  /** The order told by the shed, or the stamp until then. */
  readonly order: Stamp
}

interface LaidEntity {
  readonly key: EntityKey
  readonly bySource: Map<Source, readonly Laid[]>
}

export class Overlay {
  private readonly entities = new Map<string, LaidEntity>()
  private readonly sources = new Map<Source, readonly string[]>()

  /** Replaces what a source lays over the state; the names of entities touched are returned. */
  lay(source: Source, laid: readonly Laid[]): Set<string> {
    const touched = this.lift(source)
    const names = new Set<string>()
    for (const [name, ofEntity] of byEntity(laid)) {
      names.add(name)
      touched.add(name)
      this.entityNamed(name, ofEntity[0]!.change).bySource.set(source, ofEntity)
    }
    if (names.size > 0) this.sources.set(source, [...names])
    return touched
  }

  private lift(source: Source): Set<string> {
    const names = this.sources.get(source) ?? []
    for (const name of names) {
      const laid = this.entities.get(name)!
      laid.bySource.delete(source)
      if (laid.bySource.size === 0) this.entities.delete(name)
    }
    this.sources.delete(source)
    return new Set(names)
  }

  private entityNamed(name: string, { type, id }: Change): LaidEntity {
    let found = this.entities.get(name)
    if (!found) this.entities.set(name, (found = { key: { type, id }, bySource: new Map() }))
    return found
  }

  /** The entity as it shows: the confirmed one where nothing lies over it, else a merged copy. */
  over(state: State, name: string): Entity | undefined {
    const confirmed = state.named(name)
    const laid = this.entities.get(name)
    if (!laid) return confirmed
    const merged = confirmed ? { key: confirmed.key, slots: new Map(confirmed.slots) } : newEntity(laid.key)
    for (const changes of laid.bySource.values()) {
      for (const { change, order } of changes) putEntry(merged, slotOf(change), entryOf(change, order))
    }
    return merged
  }

  names(): IterableIterator<string> {
    return this.entities.keys()
  }
}

function byEntity(laid: readonly Laid[]): Map<string, Laid[]> {
  const groups = new Map<string, Laid[]>()
  for (const one of laid) {
    const name = entityName(one.change.type, one.change.id)
    const group = groups.get(name)
    if (group) group.push(one)
    else groups.set(name, [one])
  }
  return groups
}
