// Where a claim begins: a buyer, and a line that was packed for them lately.

import { useState } from 'preact/hooks'
import { addDays } from '../crop/day'
import type { Day, Farm } from '../crop/nouns'
import { bunchesPacked } from '../crop/over_packed'
import type { BuyerID, LineID, Sales } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { buyerWritten, lineWritten } from '../ui/lot_words'
import { href } from '../ui/route'
import { today } from '../ui/today'

const daysBack = 60

export function PackedLines({ farm }: { readonly farm: Farm }) {
  const [buyer, setBuyer] = useState<BuyerID | ''>('')
  const lines = packedLately(farm.sales, today.value)
  const buyers = [...new Set(lines.map((line) => line.buyer))].sort((a, b) => buyerWritten(farm, a).localeCompare(buyerWritten(farm, b)))
  const chosen = lines.filter((line) => line.buyer === buyer)
  return (
    <section class="card">
      <h2>{t('claim.new')}</h2>
      {buyers.length === 0 ? <p class="small">{t('claim.new.none', { n: daysBack })}</p> : (
        <label class="field">
          <span>{t('claim.buyer')}</span>
          <select value={buyer} onChange={(event) => setBuyer(event.currentTarget.value as BuyerID | '')}>
            <option value="">{t('claim.buyer.choose')}</option>
            {buyers.map((id) => <option key={id} value={id}>{buyerWritten(farm, id)}</option>)}
          </select>
        </label>
      )}
      <ul class="rows">
        {chosen.map(({ line, due }) => (
          <li key={line}>
            <a class="line plain" href={href('shed', 'claims', line)}>
              <span><b>{dayName(due, today.value)}</b><span class="small block">{lineWritten(farm, line)}</span></span>
              <span class="small">{t('claim.packed', { n: bunchesPacked(farm.sales, line) })}</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  )
}

interface PackedLine {
  readonly line: LineID
  readonly buyer: BuyerID
  readonly due: Day
}

/** Lines of which something was packed, the latest first; found by the days on which they were due. */
function packedLately(sales: Sales, day: Day): PackedLine[] {
  const found = new Map<LineID, PackedLine>()
  for (let ahead = 7; ahead >= -daysBack; ahead--) {
    for (const id of sales.packedDue.get(addDays(day, ahead)) ?? []) {
      const packed = sales.packed.get(id)
      if (packed && packed.bunches > 0) found.set(packed.line, packed)
    }
  }
  return [...found.values()]
}
