// Who descends from whom: the divisions of a plant, and the seedlings that came up at its foot.

import type { Farm, Plant, PlantID } from './nouns'

export interface Kin {
  /** Plants divided from it. */
  readonly children: readonly PlantID[]
  /** Self-sown seedlings that came up beside it. */
  readonly seedlings: readonly PlantID[]
}

/** A plant that another names as its kin, which may have been withdrawn since; undefined where it has not come here yet. */
export function kinNamed({ plants, withdrawn }: Pick<Farm, 'plants' | 'withdrawn'>, id: PlantID): { readonly plant: Plant; readonly withdrawn: boolean } | undefined {
  const plant = plants.get(id) ?? withdrawn.plants.get(id)
  return plant && { plant, withdrawn: !plants.has(id) }
}

interface Index {
  readonly plants: Farm['plants']
  readonly version: number
  readonly children: ReadonlyMap<PlantID, readonly PlantID[]>
  readonly seedlings: ReadonlyMap<PlantID, readonly PlantID[]>
}

let index: Index | undefined

/** Looked up in an index of all plants, made anew only when what stands has changed. */
export function kinOf(farm: Pick<Farm, 'plants' | 'layoutVersion'>, plant: PlantID): Kin {
  if (index?.plants !== farm.plants || index.version !== farm.layoutVersion) index = indexOf(farm)
  return { children: index.children.get(plant) ?? [], seedlings: index.seedlings.get(plant) ?? [] }
}

function indexOf({ plants, layoutVersion }: Pick<Farm, 'plants' | 'layoutVersion'>): Index {
  const children = new Map<PlantID, PlantID[]>()
  const seedlings = new Map<PlantID, PlantID[]>()
  const put = (map: Map<PlantID, PlantID[]>, at: PlantID, plant: PlantID) => map.set(at, [...(map.get(at) ?? []), plant])
  for (const { id, parents, beside } of plants.values()) {
    for (const parent of parents) put(children, parent, id)
    if (beside !== '') put(seedlings, beside, id)
  }
  return { plants, version: layoutVersion, children, seedlings }
}
