// The last bunches that this device packed, each with its stems: what it takes back first.

import type { OneBunch } from '../crop/one_bunch'
import type { Day } from '../crop/nouns'
import type { BuyerID, LineID } from '../crop/sale_nouns'
import type { Notebook, Said } from '../sync/notebook'

export interface PackedBunch extends OneBunch {
  readonly line: LineID
  readonly buyer: BuyerID
  readonly due: Day
}

/** Under which this device keeps them, and how many. */
const [kept, mostKept] = ['packing.bunches', 50] as const

/** The newest last. */
export function packedBunches(notebook: Pick<Notebook, 'kept'>): readonly PackedBunch[] {
  return notebook.kept<readonly PackedBunch[]>(kept) ?? []
}

export function keepingBunches(bunches: readonly PackedBunch[]): Said['alongside'] {
  return { [kept]: bunches.slice(-mostKept) }
}
