// Needs a look: a promise that no longer holds as it was told. It is settled in its order, with the buyer, or by standing by it.

import { useState } from 'preact/hooks'
import { acceptChance, type Clash } from '../forecast/clashes'
import { sureInHundred } from '../forecast/forecast_words'
import { dayName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { copyText } from '../ui/copy_text'
import { buyerWritten, lineWords } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import { today } from '../ui/today'
import type { Undoable } from '../ui/use_undoable'

export function ClashLook({ clash, doing }: { readonly clash: Clash; readonly doing: Undoable }) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const [byHand, setByHand] = useState('')
  const { ask, line, due, stems, chance, told, safe } = clash
  const buyer = ask.buyer === '' ? t('buyer.unknown') : buyerWritten(farm, ask.buyer)
  const day = dayName(due, today.value)
  const fewer = async () => {
    const text = t('clash.reply', { day, n: safe, stems: t('stems', { n: stems }) })
    if (await copyText(text)) return announce(t('promise.reply.copied'))
    setByHand(text)
  }
  const hundred = (of: number) => String(sureInHundred(of))
  return (
    <div class="card">
      <p>{t('clash.say', { stems: t('stems', { n: stems }), buyer, day, line: lineWords(farm, line.id), chance: hundred(chance), told: hundred(told), safe: String(safe) })}</p>
      {may.manage ? (
        <div class="buttons">
          {line.order !== '' && <a class="btn" href={href('shed', 'orders', 'order', line.order)}>{t('clash.order')}</a>}
          <button type="button" class="btn" onClick={() => void fewer()}>{t('clash.fewer', { n: safe })}</button>
          <button type="button" class="btn" onClick={() => void doing.act(() => ({ ...acceptChance(ask, chance), said: t('clash.accepted') }))}>{t('clash.accept')}</button>
        </div>
      ) : <p class="small">{t(may.record ? 'owner_only.settle' : 'looks_on.settle')}</p>}
      {byHand !== '' && <textarea class="by-hand" readOnly rows={3} value={byHand} aria-label={t('promise.reply')} onFocus={(event) => event.currentTarget.select()} />}
    </div>
  )
}
