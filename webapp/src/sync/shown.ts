// What a screen reads of a state: the farm as nouns and what wants a look, kept up to date entity by
// entity.

import { LiveFarm } from '../crop/live'
import type { Farm, FarmID } from '../crop/nouns'
import { compareLooks, looksOf } from '../log/look'
import type { Look } from '../log/look'
import type { Entity, EntityKey } from '../log/state'
import { entityName } from '../log/state'

export class Shown {
  private readonly live: LiveFarm
  private readonly looksByEntity = new Map<string, readonly Look[]>()

  constructor(farm: FarmID) {
    this.live = new LiveFarm(farm)
  }

  /** A new object after each update. */
  get farm(): Farm {
    return this.live.farm.peek()
  }

  /** Everything that wants a look, sorted. */
  looks(): Look[] {
    return [...this.looksByEntity.values()].flat().sort(compareLooks)
  }

  /** Reads the named entities again. */
  update(names: Iterable<string>, named: (name: string) => Entity | undefined): void {
    const entities = [...names].map(name => [keyOf(name), named(name)] as const)
    if (entities.length === 0) return
    for (const [key, entity] of entities) this.noteLooks(entity ?? { key, slots: new Map() })
    this.live.update(entities)
  }

  private noteLooks(entity: Entity): void {
    const name = entityName(entity.key.type, entity.key.id)
    const looks = looksOf(entity)
    if (looks.length > 0) this.looksByEntity.set(name, looks)
    else this.looksByEntity.delete(name)
  }
}

function keyOf(name: string): EntityKey {
  const [type, id] = name.split('\0') as [string, string]
  return { type, id }
}
