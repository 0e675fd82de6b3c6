// Why stems of a lot are written off, each reason a tap that does it: all that is left unless another number stands there.

import { useState } from 'preact/hooks'
import { v4 as newUUID } from 'uuid'
import type { Lot } from '../crop/cooler'
import { lotCell } from '../crop/lots'
import { type ShrinkReason, shrinkReasons } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { lotName } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'
import { stemsTyped } from '../ui/stems_typed'
import { writeOff } from './write_off'

interface WriteOffProps {
  readonly lot: Lot
  readonly doing: Undoable
  readonly onDone?: () => void
}

export function WriteOff({ lot, doing, onDone }: WriteOffProps) {
  const notebook = useNotebook()
  const [typed, setTyped] = useState<string | undefined>(undefined)
  const [what, setWhat] = useState('')
  const [problem, setProblem] = useState('')
  const write = async (reason: ShrinkReason) => {
    const stems = typed === undefined ? 'all' : stemsTyped(typed)
    if (stems === undefined) return setProblem(t('write_off.number', { n: lot.left }))
    setProblem('')
    const stored = await doing.act((farm) => {
      const said = { date: today.peek(), person: notebook.person.peek(), reason, what: what.trim() }
      const off = writeOff(farm, lotCell(lot.id), stems, said, newUUID)
      if (!off) return t('write_off.number', { n: lot.left })
      return { ...off, said: t('write_off.done', { n: off.stems, lot: lotName(farm, lot.id), reason: t(`shrink.${reason}`) }) }
    })
    if (stored) onDone?.()
  }
  return (
    <div class="write-off">
      <div class="write-off-fields">
        <label class="field">
          <span>{t('write_off.stems')}</span>
          <input inputMode="numeric" value={typed ?? String(lot.left)} onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
        <label class="field">
          <span>{t('write_off.what')}</span>
          <input maxLength={200} value={what} onInput={(event) => setWhat(event.currentTarget.value)} />
        </label>
      </div>
      <p class="small">{t('write_off.why')}</p>
      <div class="reasons" role="group" aria-label={t('write_off.why')}>
        {shrinkReasons.map((reason) => (
          <button key={reason} type="button" class="btn" onClick={() => void write(reason)}>{t(`shrink.${reason}`)}</button>
        ))}
      </div>
      {problem !== '' && <p class="note stop" role="alert">{problem}</p>}
    </div>
  )
}
