// Another length class for today, chosen in the place of the grid; whoever wants none goes back.

import type { LengthClass, LengthUnit } from '../crop/nouns'
import { t } from '../messages/messages'
import { askLength } from './device'
import { Icon } from './Icon'
import { keyOf, type LengthsInUse, lengthName, lengthsToChoose } from './lengths'
import { useNotebook } from './notebook'
import { today } from './today'

interface LengthPickerProps {
  readonly inUse: LengthsInUse
  readonly unit: LengthUnit
  readonly onDone: () => void
}

export function LengthPicker({ inUse, unit, onDone }: LengthPickerProps) {
  const notebook = useNotebook()
  const shown = new Set(inUse.lengths.map(keyOf))
  const choose = (length: LengthClass) => {
    // The column is there; where it is not remembered, storage has said so of graver things.
    askLength(notebook, length, today.peek()).catch((reason: unknown) => console.error('keeping a length for today', reason))
    onDone()
  }
  return (
    <div class="length-picker" role="group" aria-label={t('grid.more')}>
      <p>{t('grid.more.title')}</p>
      <button type="button" class="btn" aria-label={t('grid.more.back')} onClick={onDone}><Icon name="back" /></button>
      {lengthsToChoose.filter((length) => !shown.has(keyOf(length))).map((length) => (
        <button key={keyOf(length)} type="button" class="btn" onClick={() => choose(length)}>{lengthName(length, unit)}</button>
      ))}
    </div>
  )
}
