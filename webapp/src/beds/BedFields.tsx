// What a bed is: its name, length, width and lines.

import type { LengthUnit } from '../crop/nouns'
import { t } from '../messages/messages'
import { type BedForm, type BedProblem, mostLines } from './bed_form'

interface BedFieldsProps {
  readonly form: BedForm
  readonly unit: LengthUnit
  readonly onChange: (change: Partial<BedForm>) => void
}

export function BedFields({ form, unit, onChange }: BedFieldsProps) {
  return (
    <>
      <label class="field">
        <span>{t('bed_form.name')}</span>
        <input value={form.name} maxLength={80} autocomplete="off" onInput={(event) => onChange({ name: event.currentTarget.value })} />
      </label>
      <div class="three-fields">
        <label class="field">
          <span>{t(unit === 'in' ? 'bed_form.length.ft' : 'bed_form.length.m')}</span>
          <input inputMode="decimal" value={form.length} maxLength={9} autocomplete="off" onInput={(event) => onChange({ length: event.currentTarget.value })} />
        </label>
        <label class="field">
          <span>{t(unit === 'in' ? 'bed_form.width.ft' : 'bed_form.width.m')}</span>
          <input inputMode="decimal" value={form.width} maxLength={9} autocomplete="off" onInput={(event) => onChange({ width: event.currentTarget.value })} />
        </label>
        <label class="field">
          <span>{t('bed_form.lines')}</span>
          <input inputMode="numeric" value={form.lines} maxLength={3} autocomplete="off" onInput={(event) => onChange({ lines: event.currentTarget.value })} />
        </label>
      </div>
      <p class="small">{t('bed_form.unknown')}</p>
    </>
  )
}

/** What is in the way of a bed, in words. */
export function bedProblemText(problem: BedProblem, used: number): string {
  if (problem === 'lines') return t('bed_form.problem.lines', { most: mostLines })
  if (problem === 'lines_used') return t('bed_form.problem.lines_used', { line: used })
  return t(problem === 'name' ? 'bed_form.problem.name' : 'bed_form.problem.measure')
}
