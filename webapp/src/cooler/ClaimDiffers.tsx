// A claim that says another credit than its notes gave, as where another device changed it unseen: either is made to fit.

import { creditedOf, notesOfClaim } from '../crop/billed'
import type { Farm } from '../crop/nouns'
import { claimChanges } from '../crop/sale_facts'
import type { Cents, Claim } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { buyerWritten } from '../ui/lot_words'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { Undoable, Undoing } from '../ui/use_undoable'

export function ClaimDiffers({ claim, doing }: { readonly claim: Claim; readonly doing: Undoable }) {
  const farm = useNotebook().farm.value
  const last = notesOfClaim(farm.sales, claim.id).at(-1)
  if (!last) return null
  const credited = creditedOf(farm.sales, claim.id)
  const money = (cents: number) => amount(cents as Cents, last.currency)
  const whose = { buyer: buyerWritten(farm, claim.buyer), day: dayName(claim.due, today.value), says: money(claim.credit), credited: money(credited) }
  return (
    <>
      <p>{t('claim.differs', whose)}</p>
      <div class="buttons">
        {claim.credit > credited && (
          <a class="btn" href={href('shed', 'papers', 'invoice', last.credits)}>{t('claim.differs.credit', { rest: money(claim.credit - credited) })}</a>
        )}
        <button type="button" class="btn" onClick={() => void doing.act((now) => asCredited(now, claim))}>{t('claim.differs.back', { credited: money(credited) })}</button>
      </div>
    </>
  )
}

/** The claim says what its notes gave. */
function asCredited(farm: Farm, { id }: Claim): Undoing | string {
  const claim = farm.sales.claims.get(id)
  if (!claim) return t('claim.differs.gone')
  const after = { ...claim, credit: creditedOf(farm.sales, id) }
  return { facts: claimChanges(claim, after), undo: claimChanges(after, claim), said: t('claim.edit.done') }
}
