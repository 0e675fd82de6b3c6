// A number changed by one thumb.

import { count, t } from '../messages/messages'
import './stepper.css'

interface StepperProps {
  readonly label: string
  readonly value: number
  readonly step: number
  readonly least: number
  readonly most: number
  readonly onChange: (value: number) => void
}

export function Stepper({ label, value, step, least, most, onChange }: StepperProps) {
  return (
    <div class="stepper" role="group" aria-label={label}>
      <button type="button" class="btn" aria-label={t('plan.less', { what: label })} disabled={value - step < least} onClick={() => onChange(value - step)}>−</button>
      <p><b role="status">{count(value)}</b> <span class="small block">{label}</span></p>
      <button type="button" class="btn" aria-label={t('plan.more', { what: label })} disabled={value + step > most} onClick={() => onChange(value + step)}>+</button>
    </div>
  )
}
