// What a stock is: its name, species, where it came from, and whether it may be propagated.

import type { Origin } from '../crop/nouns'
import { t } from '../messages/messages'
import { needsLicence, type StockForm } from './tray'

const origins: readonly Origin[] = ['seed', 'plug', 'division', 'bought']
/** The crop that Corymb is for above all, offered to a farm that names no species yet. */
const yarrow = 'Achillea millefolium'

interface StockFieldsProps {
  readonly form: StockForm
  /** The farm's own, to be taken by one tap. */
  readonly species: readonly string[]
  /** Where it came from, and protection, stand folded. */
  readonly folded?: boolean
  readonly onChange: (change: Partial<StockForm>) => void
}

export function StockFields({ form, species, folded, onChange }: StockFieldsProps) {
  const offered = species.filter((one) => one !== form.species)
  return (
    <>
      <label class="field">
        <span>{t('stock_form.name')}</span>
        <input value={form.name} maxLength={80} autocomplete="off" onInput={(event) => onChange({ name: event.currentTarget.value })} />
      </label>
      {species.length === 0 && form.name === '' && (
        <div class="choices">
          <button type="button" class="btn" onClick={() => onChange({ name: t('stock_form.yarrow'), species: yarrow })}>{t('stock_form.yarrow')}</button>
        </div>
      )}
      <label class="field">
        <span>{t('stock_form.species')}</span>
        <input value={form.species} maxLength={80} autocomplete="off" onInput={(event) => onChange({ species: event.currentTarget.value })} />
      </label>
      {offered.length > 0 && (
        <div class="choices" role="group" aria-label={t('stock_form.species.known')}>
          {offered.map((one) => <button key={one} type="button" class="btn" onClick={() => onChange({ species: one })}>{one}</button>)}
        </div>
      )}
      {folded
        ? <details><summary>{t('stock_form.more')}</summary><div class="folded"><Provenance form={form} onChange={onChange} /></div></details>
        : <Provenance form={form} onChange={onChange} />}
    </>
  )
}

function Provenance({ form, onChange }: Pick<StockFieldsProps, 'form' | 'onChange'>) {
  return (
    <>
      <div class="field">
        <span id="stock-origin">{t('stock_form.origin')}</span>
        <div class="choices two" role="group" aria-labelledby="stock-origin">
          {origins.map((origin) => (
            <button key={origin} type="button" class="btn" aria-pressed={origin === form.origin} onClick={() => onChange({ origin })}>{t(`origin.${origin}`)}</button>
          ))}
        </div>
      </div>
      <label class="switch">
        <input type="checkbox" checked={form.protected} onChange={(event) => onChange({ protected: event.currentTarget.checked })} />
        <span>{t('stock_form.protected')}</span>
      </label>
      <p class="small">{t('stock_form.protected.means')}</p>
      {needsLicence(form) && <p class="note warn">{t('stock_form.licence')}</p>}
    </>
  )
}
