// A claim of a line, recorded or changed: stems, why, of which lot, whether they came back, and what is credited.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { chargedFor, noteOfClaim } from '../crop/billed'
import { stemsClaimed } from '../crop/claimed'
import type { Farm } from '../crop/nouns'
import { lineOf, stemsPacked } from '../crop/over_packed'
import { linePrice } from '../crop/price_of'
import { type Cents, type Claim, type ClaimID, type ClaimReason, claimReasons, type LineID, type Packed } from '../crop/sale_nouns'
import { count, t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { lotWritten } from '../ui/lot_words'
import { amount, typedAmount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { type ClaimProblem, type ClaimTyped, claimChanged, claimMade, priceOfStems, typedOf } from './claim'
import { stemsTyped } from '../ui/stems_typed'

interface ClaimFormProps {
  readonly line: LineID
  readonly packed: Pick<Packed, 'line' | 'buyer' | 'due'>
  readonly lots: readonly { readonly cell: string; readonly stems: number }[]
  readonly doing: Undoable
  /** The claim that is changed; undefined for a new one. */
  readonly claim?: Claim
  readonly onDone?: () => void
}

export function ClaimForm({ line, packed, lots, doing, claim, onDone }: ClaimFormProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const ordered = lineOf(farm.sales, line)
  const [typed, setTyped] = useState<ClaimTyped>(() => (claim ? typedOf(claim) : {
    stems: String(ordered?.stems ?? ''), reason: 'wilted', lot: lots[0]?.cell ?? '', back: false, credit: '', what: '',
  }))
  const change = (told: Partial<ClaimTyped>) => setTyped((before) => ({ ...before, ...told }))
  const note = claim && noteOfClaim(farm.sales, claim.id)
  const plan = (now: Farm) => {
    const of = claimable(now, line, claim?.id)
    const made = claim
      ? claimChanged(typed, now.sales.claims.get(claim.id) ?? claim, of, noteOfClaim(now.sales, claim.id) !== undefined)
      : claimMade(typed, packed, of, { id: newUUID() as ClaimID, date: today.peek(), person: notebook.person.peek() })
    if (typeof made === 'string') return problemText(made, of)
    return { ...made, said: claim ? t('claim.edit.done') : t('claim.done', { n: made.stems }) }
  }
  const save = async (event: Event) => {
    event.preventDefault()
    if (await doing.act(plan)) onDone?.()
  }
  const charged = chargedFor(farm.sales, line)
  const priced = charged.stems > 0 ? charged : ordered && { stems: ordered.stems, price: linePrice(farm.sales, packed.buyer, ordered, packed.due) as Cents }
  const worth = priceOfStems(priced, stemsTyped(typed.stems) ?? 0)
  const { packed: stems, claimed } = claimable(farm, line, claim?.id)
  return (
    <form class="card" noValidate onSubmit={(event) => void save(event)}>
      <h2>{t(claim ? 'claim.edit.title' : 'claim.new')}</h2>
      {note && <p class="note">{t('claim.edit.noted', { number: note.number })}</p>}
      {stems > 0 && claimed > 0 && <p class="small">{t('claim.left', { n: Math.max(stems - claimed, 0), packed: count(stems) })}</p>}
      <label class="field">
        <span>{t('claim.stems')}</span>
        <input inputMode="numeric" value={typed.stems} disabled={note !== undefined} onInput={(event) => change({ stems: event.currentTarget.value })} />
      </label>
      <Choice<ClaimReason> name={t('claim.why')} value={typed.reason} onChoose={(reason) => change({ reason })} options={claimReasons.map((reason) => [reason, t(`claim.reason.${reason}`)] as const)} />
      <fieldset class="field">
        <legend>{t('claim.lot')}</legend>
        <div class="choices stacked">
          {lots.map(({ cell, stems: n }) => (
            <button key={cell} type="button" class="btn" aria-pressed={typed.lot === cell} onClick={() => change({ lot: cell })}>
              <span>{lotWritten(farm, cell)}<span class="small block">{t('claim.lot.packed', { n })}</span></span>
            </button>
          ))}
          <button type="button" class="btn" aria-pressed={typed.lot === ''} onClick={() => change({ lot: '' })}>{t('claim.lot.unknown')}</button>
        </div>
      </fieldset>
      <label class="switch">
        <input type="checkbox" checked={typed.back} onChange={(event) => change({ back: event.currentTarget.checked })} />
        <span>{t('claim.back')}<span class="small block">{t('claim.back.note')}</span></span>
      </label>
      <label class="field">
        <span>{t('claim.credit')}</span>
        <input inputMode="decimal" value={typed.credit} disabled={note !== undefined} onInput={(event) => change({ credit: event.currentTarget.value })} />
      </label>
      {worth !== undefined && !note && <button type="button" class="btn" onClick={() => change({ credit: typedAmount(worth) })}>{t('claim.worth', { amount: amount(worth, farm.sales.terms.currency) })}</button>}
      <label class="field">
        <span>{t('claim.what')}</span>
        <input maxLength={200} value={typed.what} onInput={(event) => change({ what: event.currentTarget.value })} />
      </label>
      {doing.problem !== '' && <p class="note stop" role="alert">{doing.problem}</p>}
      <div class="buttons">
        {onDone && <button type="button" class="btn" onClick={onDone}>{t('cancel')}</button>}
        <button type="submit" class="btn main">{t(claim ? 'claim.edit.save' : 'claim.save')}</button>
      </div>
    </form>
  )
}

function claimable({ sales }: Farm, line: LineID, but: ClaimID | undefined) {
  return { packed: stemsPacked(sales, line), claimed: stemsClaimed(sales, line, but) }
}

function problemText(problem: ClaimProblem, { packed, claimed }: ReturnType<typeof claimable>): string {
  if (problem === 'too_many') return t('claim.problem.too_many', { n: packed })
  if (problem === 'left') return t('claim.problem.left', { n: Math.max(packed - claimed, 0), packed: count(packed) })
  return t(`claim.problem.${problem}`)
}
