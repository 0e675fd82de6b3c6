// Putting right what was packed: a correction names the total it saw, so that what stood before stays on record.

import type { Packed } from '../crop/sale_nouns'
import { packedCorrect } from '../crop/sale_facts'
import type { Notebook } from '../sync/notebook'

/** Brings the counts of what was packed to the wanted numbers, by cell, from where they stand when their turn comes. */
export function recordPacked(notebook: Notebook, packed: Packed, wanted: ReadonlyMap<string, number>): Promise<void> {
  return notebook.recordInTurn(() => ({ facts: packedFactsFor(notebook, packed, wanted), alongside: {} }))
}

export function packedFactsFor(notebook: Pick<Notebook, 'cell' | 'looks'>, { id }: Pick<Packed, 'id'>, wanted: ReadonlyMap<string, number>) {
  return [...wanted].flatMap(([cell, to]) => {
    const { total, tips } = notebook.cell(id, cell)
    const look = notebook.looks.peek().some((one) => one.type === 'packed' && one.id === id && one.field === cell)
    // Where the cell wants a look, a correction says that somebody has looked, were it by 0.
    return to === total && !look ? [] : [packedCorrect(id, cell, to - total, total, tips)]
  })
}
