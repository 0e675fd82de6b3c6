// Putting right what was packed: a correction names the total it saw, so that what stood before stays on record.

import type { Packed } from '../crop/sale_nouns'
import { packedCorrect } from '../crop/sale_facts'
import type { Notebook } from '../sync/notebook'

/**
 * Brings the counts of what was packed to the wanted numbers, by cell, from where they stand when their turn comes; a cell
 * without a number stays as it stands then.
 */
export function recordPacked(notebook: Notebook, packed: Packed, wanted: ReadonlyMap<string, number | undefined>): Promise<void> {
  return notebook.recordInTurn(() => ({ facts: packedFactsFor(notebook, packed, wanted), alongside: {} }))
}

export function packedFactsFor(notebook: Pick<Notebook, 'cell' | 'looks'>, { id }: Pick<Packed, 'id'>, wanted: ReadonlyMap<string, number | undefined>) {
  return [...wanted].flatMap(([cell, to]) => {
    const { total, tips } = notebook.cell(id, cell)
    const look = notebook.looks.peek().some((one) => one.type === 'packed' && one.id === id && one.field === cell)
    // Where the cell wants a look, a correction says that somebody has looked, were it by 0.
    const by = (to ?? total) - total
    return by === 0 && !look ? [] : [packedCorrect(id, cell, by, total, tips)]
  })
}
