// One claim of a buyer: how many stems, why, of which lot, what it cost; an owner takes a mistaken one away.

import { useState } from 'preact/hooks'
import { withdrawnFact } from '../crop/facts'
import { lotCell } from '../crop/lots'
import type { Claim } from '../crop/sale_nouns'
import { count, dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { buyerWritten, lotWritten } from '../ui/lot_words'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import { failureText } from '../ui/words'

export function ClaimRow({ claim }: { readonly claim: Claim }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const may = useRights()
  const [problem, setProblem] = useState('')
  const withdraw = () => notebook.record([withdrawnFact('claim', claim.id, true, 'shed')]).then(
    () => announce(t('claim.away.done')),
    (reason: unknown) => setProblem(failureText(reason)),
  )
  const credit = may.manage && claim.credit > 0 ? t('claim.credited', { amount: amount(claim.credit, farm.sales.terms.currency) }) : ''
  return (
    <li class="shrink-row">
      <p>
        <a href={href('shed', 'claims', claim.line)}><b>{buyerWritten(farm, claim.buyer)}</b></a>
        <span class="block">{t('claim.line', { n: count(claim.stems), reason: t(`claim.reason.${claim.reason}`) })}{claim.back && ` · ${t('claim.came_back')}`}</span>
        {credit !== '' && <span class="block">{credit}</span>}
        {claim.what !== '' && <span class="block">{claim.what}</span>}
        {claim.lot
          ? <a class="small block" href={href('shed', 'lot', lotCell(claim.lot))}>{lotWritten(farm, lotCell(claim.lot))}</a>
          : <span class="small block">{t('claim.no_lot')}</span>}
        <span class="small block">{t('claim.dates', { due: dayName(claim.due, today.value), day: dayName(claim.date, today.value) })}</span>
        {problem !== '' && <span class="block" role="alert">{problem}</span>}
      </p>
      {may.manage && <button type="button" class="btn" onClick={() => void withdraw()}>{t('claim.away')}</button>}
    </li>
  )
}
