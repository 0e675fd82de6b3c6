// To whom the stems of a lot went, each with the line that they were packed for.

import { whereWent } from '../crop/lot_trace'
import type { Farm } from '../crop/nouns'
import { count, dayName, t } from '../messages/messages'
import { buyerWritten } from '../ui/lot_words'
import { href } from '../ui/route'
import { today } from '../ui/today'

export function LotWent({ farm, cell }: { readonly farm: Farm; readonly cell: string }) {
  const went = whereWent(farm, cell)
  return (
    <>
      <h2>{t('lot.to')}</h2>
      {went.length === 0 && <p class="small">{t('lot.to.none')}</p>}
      <ul class="rows">
        {went.map(({ packed, stems }) => (
          <li key={packed.id}>
            <a class="line plain" href={href('shed', 'claims', packed.line)}>
              <span>
                <b>{buyerWritten(farm, packed.buyer)}</b>
                <span class="small block">
                  {[t('lot.to.due', { day: dayName(packed.due, today.value) }), packed.person !== '' && t('lot.packed_by', { name: farm.people.get(packed.person)?.name ?? t('visit.somebody') })].filter(Boolean).join(' · ')}
                </span>
              </span>
              <span class="n">{count(stems)}</span>
            </a>
          </li>
        ))}
      </ul>
    </>
  )
}
