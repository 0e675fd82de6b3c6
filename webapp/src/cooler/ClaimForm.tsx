// Recording a claim of a line: stems, why, of which lot, whether they came back, and what is credited.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import { lineOf } from '../crop/over_packed'
import { linePrice } from '../crop/price_of'
import { type Cents, type ClaimID, type ClaimReason, claimReasons, type LineID, type Packed } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { lotWritten } from '../ui/lot_words'
import { amount, typedAmount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { type ClaimTyped, claimMade, priceOfStems } from './claim'
import { stemsTyped } from './stems_typed'

interface ClaimFormProps {
  readonly line: LineID
  readonly packed: Packed
  readonly lots: readonly { readonly cell: string; readonly stems: number }[]
  readonly doing: Undoable
}

export function ClaimForm({ line, packed, lots, doing }: ClaimFormProps) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const ordered = lineOf(farm.sales, line)
  const [typed, setTyped] = useState<ClaimTyped>({
    stems: String(ordered?.stems ?? ''), reason: 'wilted', lot: lots[0]?.cell ?? '', back: false, credit: '', what: '',
  })
  const change = (told: Partial<ClaimTyped>) => setTyped((before) => ({ ...before, ...told }))
  const stemsPacked = lots.reduce((sum, { stems }) => sum + stems, 0)
  const save = (event: Event) => {
    event.preventDefault()
    void doing.act(() => {
      const made = claimMade(typed, packed, stemsPacked, { id: newUUID() as ClaimID, date: today.peek(), person: notebook.person.peek() })
      return typeof made === 'string' ? t(`claim.problem.${made}`, { n: stemsPacked }) : { ...made, said: t('claim.done', { n: made.stems }) }
    })
  }
  const price = ordered && linePrice(farm.sales, packed.buyer, ordered, packed.due)
  const worth = ordered && priceOfStems({ stems: ordered.stems, price: price as Cents }, stemsTyped(typed.stems) ?? 0)
  return (
    <form class="card" noValidate onSubmit={save}>
      <h2>{t('claim.new')}</h2>
      <label class="field">
        <span>{t('claim.stems')}</span>
        <input inputMode="numeric" value={typed.stems} onInput={(event) => change({ stems: event.currentTarget.value })} />
      </label>
      <Choice<ClaimReason> name={t('claim.why')} value={typed.reason} onChoose={(reason) => change({ reason })} options={claimReasons.map((reason) => [reason, t(`claim.reason.${reason}`)] as const)} />
      <fieldset class="field">
        <legend>{t('claim.lot')}</legend>
        <div class="choices stacked">
          {lots.map(({ cell, stems }) => (
            <button key={cell} type="button" class="btn" aria-pressed={typed.lot === cell} onClick={() => change({ lot: cell })}>
              <span>{lotWritten(farm, cell)}<span class="small block">{t('claim.lot.packed', { n: stems })}</span></span>
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
        <input inputMode="decimal" value={typed.credit} onInput={(event) => change({ credit: event.currentTarget.value })} />
      </label>
      {worth !== undefined && <button type="button" class="btn" onClick={() => change({ credit: typedAmount(worth) })}>{t('claim.worth', { amount: amount(worth, farm.sales.terms.currency) })}</button>}
      <label class="field">
        <span>{t('claim.what')}</span>
        <input maxLength={200} value={typed.what} onInput={(event) => change({ what: event.currentTarget.value })} />
      </label>
      <button type="submit" class="btn main">{t('claim.save')}</button>
    </form>
  )
}
