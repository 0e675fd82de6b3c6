// The bunch that this device packed last, and taking it back; or why a tap packed nothing, and how an owner goes on.

import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { UndoNote } from '../ui/UndoNote'
import type { Undoable } from '../ui/use_undoable'
import { buyerWritten } from '../ui/lot_words'
import type { DueLine } from './due_lines'
import { isHeld, NotPacked, type Packer } from './packer'
import { drawnBriefly, notPackedText } from './packing_words'

interface LastBunchProps {
  readonly packer: Packer
  /** A bunch of some line that was taken back on its own. */
  readonly back: Undoable
  readonly lines: readonly DueLine[]
  /** An owner packs it whatever speaks against it. */
  readonly onAllTheSame: (due: DueLine) => void
}

export function LastBunch({ packer, back, lines, onAllTheSame }: LastBunchProps) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const last = packer.bunches.value.at(-1)
  const failure = packer.failure.value
  const held = failure?.reason instanceof NotPacked && isHeld(failure.reason.why)
  const due = held ? lines.find(({ line }) => line.id === failure.line) : undefined
  const takeBack = async () => {
    if (last && await packer.takeBack()) announce(t('packing.pack.backed', { buyer: buyerWritten(farm, last.buyer) }))
  }
  if (back.done || back.problem !== '') return <div class="last-bunch"><UndoNote {...back} undo={async () => { await back.undo(); packer.show() }} /></div>
  return (
    <div class="last-bunch">
      {failure
        ? <p class="note stop" role="alert"><Icon name="warn" /> {due && <b>{buyerWritten(farm, due.buyer)}: </b>}{notPackedText(failure.reason)}{held && !may.manage && ` ${t('packing.held.crew')}`}</p>
        : <p class="small">{last ? t('packing.pack.last', { buyer: buyerWritten(farm, last.buyer), lots: drawnBriefly(farm, last.stems) }) : t('packing.pack.last.none')}</p>}
      {due && may.manage && <button type="button" class="btn" onClick={() => onAllTheSame(due)}>{t('packing.held.go_on')}</button>}
      {last && <button type="button" class="btn" onClick={() => void takeBack()}>{t('packing.pack.back')}</button>}
    </div>
  )
}
