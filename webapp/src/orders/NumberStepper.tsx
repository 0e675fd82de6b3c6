// A whole number, changed by one thumb or typed; what is typed stands until it is told what is wrong with it.

import { t } from '../messages/messages'
import { wholeFrom } from '../ui/whole_number'

interface NumberStepperProps {
  readonly label: string
  readonly value: string
  readonly step?: number
  readonly least: number
  readonly most: number
  /** Stands in the field while it is empty. */
  readonly empty?: string
  readonly onChange: (value: string) => void
}

export function NumberStepper({ label, value, step = 1, least, most, empty = '', onChange }: NumberStepperProps) {
  const now = value.trim() === '' ? 0 : wholeFrom(value, 0, 9_999_999)
  const to = (n: number) => onChange(n === 0 && empty !== '' ? '' : String(n))
  const less = now === undefined ? undefined : Math.max(least, Math.ceil(now / step - 1) * step)
  const more = now === undefined ? undefined : Math.min(most, Math.floor(now / step + 1) * step)
  return (
    <div class="typed-stepper" role="group" aria-label={label}>
      <button type="button" class="btn" aria-label={t('plan.less', { what: label })} disabled={now === undefined || now <= least} onClick={() => less !== undefined && to(less)}>−</button>
      <label>
        <span>{label}</span>
        <input inputMode="numeric" autocomplete="off" maxLength={8} value={value} placeholder={empty} onInput={(event) => onChange(event.currentTarget.value)} />
      </label>
      <button type="button" class="btn" aria-label={t('plan.more', { what: label })} disabled={now === undefined || now >= most} onClick={() => more !== undefined && to(more)}>+</button>
    </div>
  )
}
