// The bunch that this device packed last, and taking it back; or why a tap packed nothing.

import { t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import { UndoNote } from '../ui/UndoNote'
import type { Undoable } from '../ui/use_undoable'
import type { Packer } from './packer'
import { buyerWritten, drawnWritten, notPackedText } from './packing_words'

interface LastBunchProps {
  readonly packer: Packer
  /** A bunch of some line that was taken back on its own. */
  readonly back: Undoable
}

export function LastBunch({ packer, back }: LastBunchProps) {
  const farm = useNotebook().farm.value
  const last = packer.bunches.value.at(-1)
  const failure = packer.failure.value
  const takeBack = async () => {
    if (last && await packer.takeBack()) announce(t('packing.pack.backed', { buyer: buyerWritten(farm, last.buyer) }))
  }
  if (back.done || back.problem !== '') return <div class="last-bunch"><UndoNote {...back} undo={async () => { await back.undo(); packer.show() }} /></div>
  return (
    <div class="last-bunch">
      {failure
        ? <p class="note stop" role="alert"><Icon name="warn" /> {notPackedText(failure.reason)}</p>
        : <p class="small">{last ? t('packing.pack.last', { buyer: buyerWritten(farm, last.buyer), lots: drawnWritten(farm, last.stems) }) : t('packing.pack.last.none')}</p>}
      {last && <button type="button" class="btn" onClick={() => void takeBack()}>{t('packing.pack.back')}</button>}
    </div>
  )
}
