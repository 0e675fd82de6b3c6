// The columns of a statement's row as they are typed.

import type { RefObject } from 'preact'
import { t } from '../messages/messages'
import type { RowForm } from './forms'

interface RowFieldsProps {
  readonly form: RowForm
  /** The field that is typed first. */
  readonly first?: RefObject<HTMLInputElement | null>
  readonly onTell: (part: Partial<RowForm>) => void
}

export function RowFields({ form, first, onTell }: RowFieldsProps) {
  const field = (name: Exclude<keyof RowForm, 'day'>, label: string, more: { readonly maxLength: number; readonly inputMode?: 'text' }) => (
    <label class={`field ${name}`}>
      <span>{label}</span>
      <input autocomplete="off" value={form[name]} {...more} onInput={(event) => onTell({ [name]: event.currentTarget.value })} />
    </label>
  )
  return (
    <div class="row-fields">
      <label class="field day">
        <span>{t('money.day')}</span>
        <input {...(first && { ref: first })} type="date" value={form.day} onInput={(event) => onTell({ day: event.currentTarget.value })} />
      </label>
      {field('words', t('money.row.words'), { maxLength: 200 })}
      {field('bunches', t('money.row.bunches.head'), { maxLength: 6, inputMode: 'text' })}
      {field('amount', t('money.row.amount'), { maxLength: 12, inputMode: 'text' })}
      {field('kept', t('money.row.kept.head'), { maxLength: 12, inputMode: 'text' })}
    </div>
  )
}
