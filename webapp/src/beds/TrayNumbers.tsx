// How many plants a tray has, and which lines and numbers it fills.

import { count, t } from '../messages/messages'
import { lastLineOf, type TrayForm, type TrayPlan, traySizes } from './tray'

interface TrayNumbersProps {
  readonly form: TrayForm
  readonly plan: TrayPlan
  readonly onChange: (change: Partial<TrayForm>) => void
}

export function TrayNumbers({ form, plan, onChange }: TrayNumbersProps) {
  return (
    <section class="card">
      <h2 id="tray-plants">{t('tray.plants')}</h2>
      <div class="choices four" role="group" aria-labelledby="tray-plants">
        {traySizes.map((size) => (
          <button key={size} type="button" class="btn" aria-pressed={form.plants.trim() === String(size)} onClick={() => onChange({ plants: String(size) })}>{count(size)}</button>
        ))}
      </div>
      <label class="field">
        <span>{t('tray.plants.other')}</span>
        <input inputMode="numeric" value={form.plants} maxLength={6} autocomplete="off" onInput={(event) => onChange({ plants: event.currentTarget.value })} />
      </label>
      {(plan.gaps > 0 || form.gapsOnly) && <GapsOnly form={form} plan={plan} onChange={onChange} />}
      <div class="three-fields">
        <NumberField label={t('tray.from')} value={form.from} onText={(from) => onChange({ from })} />
        <NumberField label={t('tray.to')} value={form.to === '' ? String(lastLineOf(plan.bed, plan.lines.from)) : form.to} onText={(to) => onChange({ to })} />
        <NumberField label={t('tray.first')} value={form.first} onText={(first) => onChange({ first })} />
      </div>
    </section>
  )
}

function GapsOnly({ form, plan, onChange }: TrayNumbersProps) {
  // As many as there are gaps, which is what filling them means; another number may still be typed.
  const set = (gapsOnly: boolean) => onChange({ gapsOnly, ...(gapsOnly && { plants: String(plan.gaps) }) })
  return (
    <label class="switch">
      <input type="checkbox" checked={form.gapsOnly} onChange={(event) => set(event.currentTarget.checked)} />
      <span>{t('tray.gaps_only')}<span class="small block">{t('tray.gaps', { n: plan.gaps })}</span></span>
    </label>
  )
}

interface NumberFieldProps {
  readonly label: string
  readonly value: string
  readonly onText: (text: string) => void
}

function NumberField({ label, value, onText }: NumberFieldProps) {
  return (
    <label class="field">
      <span>{label}</span>
      <input inputMode="numeric" value={value} maxLength={4} autocomplete="off" onInput={(event) => onText(event.currentTarget.value)} />
    </label>
  )
}
