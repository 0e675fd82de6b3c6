// What one device packed for a line, by whom and when, with the way to put it right.

import { useState } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import type { Packed } from '../crop/sale_nouns'
import { dayName, t } from '../messages/messages'
import { buyerWritten } from './lot_words'
import { PackedRight } from './PackedRight'
import { today } from './today'

interface PackedRowProps {
  readonly farm: Farm
  readonly packed: Packed
  /** Of one lot; all of what was packed where undefined. */
  readonly stems?: number
  /** On a page that says for whom and for which day it is. */
  readonly brief?: boolean
  readonly mayRight: boolean
}

export function PackedRow({ farm, packed, stems, brief, mayRight }: PackedRowProps) {
  const [open, setOpen] = useState(false)
  if (open) return <li><PackedRight packed={packed} onDone={() => setOpen(false)} /></li>
  return (
    <li class="settle-row">
      <span>
        {!brief && <><b>{buyerWritten(farm, packed.buyer)}</b> </>}{stems === undefined ? t('claim.packed', { n: packed.bunches }) : t('stems', { n: stems })}
        <span class="small block">{!brief && `${t('lot.to.due', { day: dayName(packed.due, today.value) })} · `}{whoAndWhen(farm, packed.person, packed.date)}</span>
      </span>
      {mayRight && <button type="button" class="btn" onClick={() => setOpen(true)}>{t('packed_right')}</button>}
    </li>
  )
}

export function whoAndWhen(farm: Farm, person: Packed['person'], date: Packed['date']): string {
  const name = (person !== '' && farm.people.get(person)?.name) || t('visit.somebody')
  return t('sale_looks.by', { name, day: dayName(date, today.value) })
}
