// One lot in the cooler's list; a tap opens what can be done with it.

import type { Lot } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import { count, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { Icon } from '../ui/Icon'
import { inTens, lotName, lotSwatch, lotWhence } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import type { Undoable } from '../ui/use_undoable'
import { WriteOff } from './WriteOff'

interface LotRowProps {
  readonly lot: Lot
  readonly open: boolean
  readonly doing: Undoable
  readonly onToggle: () => void
}

export function LotRow({ lot, open, doing, onToggle }: LotRowProps) {
  const farm = useNotebook().farm.value
  const may = useRights()
  return (
    <li>
      <button type="button" class="line" aria-expanded={open} onClick={onToggle}>
        <Head swatch={lotSwatch(farm, lot.id)} size={36} />
        <span><b>{lotName(farm, lot.id)}</b><span class="small block">{lotWhence(farm, lot.id)}</span><span class="small block">{inTens(lot.left)}</span></span>
        <span class="n">{count(lot.left)}</span>
      </button>
      {open && (
        <div class="lot-open">
          {may.record && <WriteOff lot={lot} doing={doing} onDone={onToggle} />}
          <a class="btn" href={href('shed', 'lot', lotCell(lot.id))}>{t('lot.trace')}<Icon name="on" /></a>
        </div>
      )}
    </li>
  )
}
