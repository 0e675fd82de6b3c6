// One ask that was kept, and what can be done about it.

import type { Ask } from '../crop/ahead_nouns'
import { unmetStems } from '../crop/ahead_nouns'
import type { Deed } from '../crop/deed'
import type { Farm } from '../crop/nouns'
import type { BuyerID } from '../crop/sale_nouns'
import { sureInHundred } from '../forecast/forecast_words'
import { t } from '../messages/messages'
import { buyerWritten } from '../ui/lot_words'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { href } from '../ui/route'
import type { Undoable, Undoing } from '../ui/use_undoable'
import { whenText } from './ask_words'
import { answerOtherwise, isPacked, withdrawAsk } from './promise_deeds'
import { whatText } from './reply'

interface AskRowProps {
  readonly ask: Ask
  readonly doing: Undoable
}

export function AskRow({ ask, doing }: AskRowProps) {
  const farm = useNotebook().farm.value
  const may = useRights()
  const who = ask.buyer === '' ? t('asks.nobody') : buyerWritten(farm, ask.buyer as BuyerID)
  return (
    <li>
      <details class="ask-row">
        <summary>
          <span><b>{who}</b> · {whenText(ask.from, ask.due)}<span class="small block">{whatText(farm, ask)}</span><span class="small block">{answerText(ask)}</span></span>
          <span class="n">{ask.stems}</span>
        </summary>
        {may.manage ? <Ways ask={ask} doing={doing} /> : <p class="small">{t('promise.owner_only')}</p>}
      </details>
    </li>
  )
}

function answerText(ask: Ask): string {
  const chance = ask.chance > 0 ? ` ${t('asks.chance', { n: sureInHundred(ask.chance / 1000) })}` : ''
  if (ask.answer === '') return (ask.offered > 0 ? t('asks.answer.offered', { n: ask.offered }) : t('asks.answer.open')) + chance
  if (ask.answer !== 'promised') return t(`asks.answer.${ask.answer}`)
  return (unmetStems(ask) > 0 ? t('asks.answer.partly', { n: ask.offered }) : t('asks.answer.promised')) + chance
}

function Ways({ ask, doing }: AskRowProps) {
  const answers = (['', 'declined', 'went_elsewhere'] as const).filter((answer) => answer !== ask.answer)
  const act = (deed: (farm: Farm, ask: Ask) => Deed, said: string) => void doing.act((farm): Undoing | string => {
    const now = farm.ahead.asks.get(ask.id)
    if (!now) return t('asks.gone')
    if (now.answer === 'promised' && isPacked(farm, now)) return t('asks.packed')
    return { ...deed(farm, now), said }
  })
  return (
    <div class="buttons">
      {ask.order !== '' && <a class="btn" href={href('shed', 'orders', 'order', ask.order)}>{t('promise.order')}</a>}
      {ask.answer !== 'promised' && <a class="btn" href={href('ahead', 'ask', ask.id)}>{t('asks.again')}</a>}
      {answers.map((answer) => (
        <button key={answer} type="button" class="btn" onClick={() => act((farm, now) => answerOtherwise(farm, now, answer), t(`asks.said.${answer || 'open'}`))}>{t(`asks.to.${answer || 'open'}`)}</button>
      ))}
      <button type="button" class="btn" onClick={() => act(withdrawAsk, t('asks.said.withdrawn'))}>{t('asks.withdraw')}</button>
    </div>
  )
}
