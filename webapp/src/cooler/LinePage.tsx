// A line of an order and what was packed for it: the lots behind it, and what the buyer claimed of it.

import { claimsOfLine, lotsOfLine } from '../crop/lot_trace'
import { parseLotCell } from '../crop/lots'
import { bunchesPacked, lineOf, packedFor } from '../crop/over_packed'
import type { LineID } from '../crop/sale_nouns'
import { count, dayName, listed, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { buyerWritten, dueDay, lineWritten, lotName, lotSwatch, lotWhence } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { Say } from '../ui/Say'
import { today } from '../ui/today'
import { UndoNote } from '../ui/UndoNote'
import { useUndoable } from '../ui/use_undoable'
import { ClaimForm } from './ClaimForm'
import { ClaimRow } from './ClaimRow'

export function LinePage({ line }: { readonly line: LineID }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const doing = useUndoable()
  const packed = packedFor(farm.sales, line)
  const [first] = packed
  const claims = claimsOfLine(farm, line)
  const lots = lotsOfLine(farm, line)
  const due = first?.due ?? dueDay(farm, line)
  const by = [...new Set(packed.flatMap(({ person }) => (person === '' ? [] : farm.people.get(person)?.name ?? [])))]
  return (
    <div class="cooler">
      <PageHead title={first ? buyerWritten(farm, first.buyer) : t('line.title')} back={href('shed', 'claims')} />
      <div class="page">
        <div class="columns">
          <div>
            <Say text={t('line.say', { line: lineWritten(farm, line), day: dayName(due, today.value) })} />
            <p>{first === undefined ? t('line.unpacked') : t('line.packed', { n: bunchesPacked(farm.sales, line), ordered: count(lineOf(farm.sales, line)?.bunches ?? 0) })}{by.length > 0 && <span class="small block">{t('lot.packed_by', { name: listed(by) })}</span>}</p>
            <h2>{t('line.lots')}</h2>
            {lots.length === 0 && <p class="small">{t('line.lots.none')}</p>}
            <ul class="rows">
              {lots.map(({ cell, stems }) => {
                const lot = parseLotCell(cell)
                return lot && (
                  <li key={cell}>
                    <a class="line" href={href('shed', 'lot', cell)}>
                      <Head swatch={lotSwatch(farm, lot)} size={36} />
                      <span><b>{lotName(farm, lot)}</b><span class="small block">{lotWhence(farm, lot)}</span></span>
                      <span class="n">{count(stems)}</span>
                    </a>
                  </li>
                )
              })}
            </ul>
          </div>
          <div>
            <UndoNote {...doing} />
            {claims.length > 0 && <h2>{t('line.claims')}</h2>}
            <ul class="rows">{claims.map((claim) => <ClaimRow key={claim.id} claim={claim} />)}</ul>
            {first && may.manage && <ClaimForm key={claims.length} line={line} packed={first} lots={lots} doing={doing} />}
            {!may.manage && <p class="note">{t('claims.owner')}</p>}
          </div>
        </div>
      </div>
    </div>
  )
}
