// Taking one packed bunch of a line back, whoever packed it: the one that this device packed last, or one that is made up
// of what stands. It is a correction, so that what stood before stays on record.

import { billedLines } from '../crop/billed'
import type { Farm } from '../crop/nouns'
import { isThere, type OneBunch, oneBunchOf } from '../crop/one_bunch'
import { bunchesPacked } from '../crop/over_packed'
import { packedCorrect } from '../crop/sale_facts'
import type { LineID } from '../crop/sale_nouns'
import type { Fact } from '../log/change'
import { count, listed, t } from '../messages/messages'
import type { Notebook } from '../sync/notebook'
import { lotWritten } from './lot_words'
import { keepingBunches, packedBunches } from './packed_bunches'
import type { Undoing } from './use_undoable'

/** Plans it from what stands now; a text is why it cannot be. */
export function takingBack(notebook: Pick<Notebook, 'farm' | 'cell' | 'kept'>, line: LineID): Undoing | string {
  const farm = notebook.farm.peek()
  const bunches = packedBunches(notebook)
  const at = bunches.findLastIndex((one) => one.line === line)
  const remembered = bunches[at]
  const own = remembered && isThere(farm.sales, remembered) ? remembered : undefined
  const bunch = own ?? oneBunchOf(farm.sales, line)
  if (!bunch) return t('take_back.nothing')
  const stems = bunch.stems.map(([cell, n]) => t('take_back.stems', { n: count(n), lot: lotWritten(farm, cell) }))
  return {
    facts: moved(notebook, bunch, -1),
    alongside: keepingBunches(bunches.filter((_, i) => i !== at)),
    undo: () => ({ facts: moved(notebook, bunch, 1), alongside: own ? keepingBunches([...packedBunches(notebook), own]) : {} }),
    said: [stems.length === 0 ? t('take_back.done') : t('take_back.done_of', { lots: listed(stems) }), ...billedText(farm, line)].join(' '),
  }
}

/** That an invoice has the bunch; only owners' devices know. */
function billedText({ sales }: Farm, line: LineID): string[] {
  const billed = billedLines(sales).get(line)
  const on = [...billed?.on.keys() ?? []].at(-1)
  if (!billed || on === undefined || billed.bunches < bunchesPacked(sales, line)) return []
  return [t('take_back.billed', { number: sales.invoices.get(on)?.number ?? '' })]
}

function moved(notebook: Pick<Notebook, 'cell'>, { packed, stems }: OneBunch, times: 1 | -1): Fact[] {
  return [['bunches', 1] as const, ...stems].map(([cell, n]) => {
    const { total, tips } = notebook.cell(packed, cell)
    return packedCorrect(packed, cell, times * n, total, tips)
  })
}
