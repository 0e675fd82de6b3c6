// One line of an order: by a rule for bunches or its own numbers, in which colours, for how much.

import type { Day, Farm, ToldGrade } from '../crop/nouns'
import { priceOf } from '../crop/price_of'
import { type Bunch, type BuyerID, mostBunches, mostBunchStems } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Choice } from '../ui/Choice'
import { amount } from '../ui/money'
import { useRights } from '../ui/rights'
import { qualityText } from '../ui/sale_words'
import { ColourPick } from './ColourPick'
import { amountFrom } from './numbers'
import { NumberStepper } from './NumberStepper'
import { type LineDraft, lineOfBunch } from './order_form'

interface LineEditorProps {
  readonly farm: Farm
  readonly draft: LineDraft
  readonly buyer: BuyerID | ''
  /** For which its price is looked up. */
  readonly day: Day
  /** A standing order's price may follow the list. */
  readonly follows: boolean
  /** Bunches that are packed for it already. */
  readonly packed: number
  readonly onChange: (part: Partial<LineDraft>) => void
  readonly onRemove: () => void
  readonly onDone: () => void
}

export function LineEditor({ farm, draft, buyer, day, follows, packed, onChange, onRemove, onDone }: LineEditorProps) {
  const may = useRights()
  const bunches = [...farm.sales.bunches.values()].sort((a, b) => a.name.localeCompare(b.name))
  const choose = (bunch: Bunch | undefined) => {
    const { stems, grade, length, lengthBefore } = lineOfBunch(draft.id, bunch, farm.unit)
    onChange(bunch ? { bunch: bunch.id, stems, grade, length, lengthBefore } : { bunch: '' })
  }
  return (
    <div class="card line-editor">
      <fieldset class="field">
        <legend>{t('orders.line.rule')}</legend>
        <div class="choices">
          {bunches.map((one) => (
            <button key={one.id} type="button" class="btn rule" aria-pressed={draft.bunch === one.id} onClick={() => choose(one)}>
              {one.name}<span class="small">{[t('orders.stems', { n: one.stems }), qualityText(farm, one)].filter((part) => part !== '').join(', ')}</span>
            </button>
          ))}
          <button type="button" class="btn rule" aria-pressed={draft.bunch === ''} onClick={() => choose(undefined)}>{t('orders.line.own')}</button>
        </div>
      </fieldset>
      {packed > 0 && <p class="note">{t('orders.line.packed', { n: packed })}</p>}
      <NumberStepper label={t('orders.line.how_many')} value={draft.bunches} least={Math.max(1, packed)} most={mostBunches} onChange={(value) => onChange({ bunches: value })} />
      <ColourPick farm={farm} label={t('orders.line.colours')} chosen={draft.colours} none={t('orders.line.any_colour')} onChoose={(colours) => onChange({ colours })} />
      {draft.bunch === '' ? <Quality farm={farm} draft={draft} onChange={onChange} /> : (
        <details>
          <summary>{t('orders.line.otherwise')}</summary>
          <Quality farm={farm} draft={draft} onChange={onChange} />
        </details>
      )}
      {may.manage && <PriceField farm={farm} draft={draft} buyer={buyer} day={day} follows={follows} onChange={onChange} />}
      <label class="switch"><input type="checkbox" checked={draft.whole} onChange={(event) => onChange({ whole: event.currentTarget.checked })} />{t('orders.line.whole.say')}</label>
      <label class="switch"><input type="checkbox" checked={draft.exact} onChange={(event) => onChange({ exact: event.currentTarget.checked })} />{t('orders.line.exact.say')}</label>
      <div class="buttons">
        {packed === 0 && <button type="button" class="btn" onClick={onRemove}>{t('orders.line.remove')}</button>}
        <button type="button" class="btn" onClick={onDone}>{t('orders.line.done')}</button>
      </div>
    </div>
  )
}

type PartProps = Pick<LineEditorProps, 'farm' | 'draft' | 'onChange'>

function Quality({ farm, draft, onChange }: PartProps) {
  const inches = farm.unit === 'in'
  return (
    <>
      <NumberStepper label={t('orders.line.stems')} value={draft.stems} least={1} most={mostBunchStems} onChange={(stems) => onChange({ stems })} />
      <GradeChoice grade={draft.grade} onGrade={(grade) => onChange({ grade })} />
      <NumberStepper label={t(inches ? 'orders.length.in' : 'orders.length.cm')} value={draft.length} step={inches ? 2 : 10} least={0} most={200} empty={t('length.any')} onChange={(length) => onChange({ length })} />
    </>
  )
}

export function GradeChoice({ grade, onGrade }: { readonly grade: ToldGrade; readonly onGrade: (grade: ToldGrade) => void }) {
  const options = (['', 'second', 'first', 'extra'] as const).map((one) => [one, one === '' ? t('orders.grade.any') : t(`grade.${one}`)] as const)
  return <Choice name={t('orders.grade')} value={grade === 'out' ? '' : grade} options={options} onChoose={onGrade} />
}

function PriceField({ farm, draft, buyer, day, follows, onChange }: Pick<LineEditorProps, 'farm' | 'draft' | 'buyer' | 'day' | 'follows' | 'onChange'>) {
  const { terms } = farm.sales
  const listed = buyer === '' ? 0 : priceOf(farm.sales, buyer, draft.bunch, draft.colours, day).cents
  const money = listed > 0 ? amount(listed as never, terms.currency) : ''
  const differs = listed > 0 && draft.price.trim() !== '' && amountFrom(draft.price) !== listed
  return (
    <>
      <label class="field">
        <span>{terms.currency === '' ? t('orders.line.price') : t('orders.line.price.in', { currency: terms.currency })}</span>
        <input inputMode="decimal" autocomplete="off" maxLength={12} value={draft.price} placeholder={money} onInput={(event) => onChange({ price: event.currentTarget.value })} />
      </label>
      {draft.price.trim() === '' && listed > 0 && <p class="small">{t(follows ? 'orders.line.price.follows' : 'orders.line.price.list', { price: money })}</p>}
      {differs && <button type="button" class="btn" onClick={() => onChange({ price: '' })}>{t('orders.line.price.take', { price: money })}</button>}
    </>
  )
}

