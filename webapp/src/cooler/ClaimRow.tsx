// One claim of a buyer: how many stems, why, of which lot, what it cost; an owner changes one, or takes a mistaken one away.

import { creditedOf, noteOfClaim, notesOfClaim } from '../crop/billed'
import { withdrawnFact } from '../crop/facts'
import { lotCell } from '../crop/lots'
import type { Farm } from '../crop/nouns'
import type { Cents, Claim } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { buyerWritten, lotWritten } from '../ui/lot_words'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { ClaimDiffers } from './ClaimDiffers'

interface ClaimRowProps {
  readonly claim: Claim
  readonly doing: Undoable
  /** Opens it to be changed, on its line's own page. */
  readonly onChange?: () => void
}

export function ClaimRow({ claim, doing, onChange }: ClaimRowProps) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const notes = notesOfClaim(farm.sales, claim.id)
  const credited = creditedOf(farm.sales, claim.id)
  const withdraw = () => doing.act((now) => takingAway(now, claim))
  const money = (cents: Cents) => amount(cents, notes[0]?.currency ?? farm.sales.terms.currency)
  const credit = notes.length > 0 ? t('claim.credited', { amount: money(credited) }) : may.manage && claim.credit > 0 ? t('claim.owed', { amount: money(claim.credit) }) : ''
  return (
    <li class="shrink-row">
      <p>
        <a href={href('shed', 'claims', claim.line)}><b>{buyerWritten(farm, claim.buyer)}</b></a>
        <span class="block">{t('claim.line', { n: claim.stems, reason: t(`claim.reason.${claim.reason}`) })}{claim.back && ` · ${t('claim.came_back')}`}</span>
        {credit !== '' && <span class="block">{credit}{notes.map((note) => <span key={note.id}> · <a href={href('shed', 'papers', 'invoice', note.id)}>{t('papers.credit.named', { number: note.number })}</a></span>)}</span>}
        {claim.what !== '' && <span class="block">{claim.what}</span>}
        {claim.lot
          ? <a class="small block" href={href('shed', 'lot', lotCell(claim.lot))}>{lotWritten(farm, lotCell(claim.lot))}</a>
          : <span class="small block">{t('claim.no_lot')}</span>}
        <span class="small block">{t('claim.dates', { due: dayName(claim.due, today.value), day: dayName(claim.date, today.value) })}</span>
      </p>
      {may.manage && (
        <div class="claim-ways">
          {onChange && <button type="button" class="btn" onClick={onChange}>{t('claim.edit')}</button>}
          <button type="button" class="btn" onClick={() => void withdraw()}>{t('claim.away')}</button>
        </div>
      )}
      {may.manage && notes.length > 0 && credited !== claim.credit && <div class="note warn"><ClaimDiffers claim={claim} doing={doing} /></div>}
    </li>
  )
}

/** One that a note credits stays: written again, it would be credited twice. */
function takingAway(farm: Farm, { id }: Claim) {
  const note = noteOfClaim(farm.sales, id)
  if (note) return t('claim.away.noted', { number: note.number })
  return { facts: [withdrawnFact('claim', id, true, 'shed')], undo: [withdrawnFact('claim', id, false, 'shed')], said: t('claim.away.done') }
}
