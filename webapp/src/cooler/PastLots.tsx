// What is past its vase life, apart from what is for sale: in one line, and written off in one tap.

import { v4 as newUUID } from 'uuid'
import { type Lot, stemsLeft } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import { count, t } from '../messages/messages'
import { lotName, lotWhence } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { writeOffPast } from './write_off'

export function PastLots({ past, doing }: { readonly past: readonly Lot[]; readonly doing: Undoable }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  if (past.length === 0) return null
  const write = () => doing.act((now) => {
    const said = { date: today.peek(), person: notebook.person.peek(), reason: 'too_old' as const, what: '' }
    const off = writeOffPast(now, said, newUUID)
    return off ? { ...off, said: t('past.done', { n: off.lots, stems: t('stems', { n: off.stems }) }) } : t('past.none')
  })
  return (
    <section class="card">
      <p>{t('past.say', { n: past.length, stems: t('stems', { n: stemsLeft(past) }) })}</p>
      {may.record && <button type="button" class="btn tall" onClick={() => void write()}>{t('past.write_off')}</button>}
      <details class="which">
        <summary>{t('past.which')}</summary>
        <ul class="rows">
          {past.map((lot) => (
            <li key={lotCell(lot.id)}>
              <a class="line plain" href={href('shed', 'lot', lotCell(lot.id))}>
                <span>{lotName(farm, lot.id)}<span class="small block">{lotWhence(farm, lot.id)} · {t('life.past', { n: -lot.daysLeft })}</span></span>
                <span class="n">{count(lot.left)}</span>
              </a>
            </li>
          ))}
        </ul>
      </details>
    </section>
  )
}
