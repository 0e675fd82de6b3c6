// When flushes that have not begun give their first cut, and how likely they come.

import type { FirstCut, ForecastAnswer } from '../forecast/forecast'
import { inHundred } from '../forecast/forecast_words'
import { dayAndMonth, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'

/** Below such a chance a flush is not spoken of. */
const hardlyEver = 0.02

export function FirstCuts({ answer }: { readonly answer: ForecastAnswer }) {
  const coming = answer.first_cuts.filter(({ q95, chance }) => q95 >= today.value && chance >= hardlyEver)
  if (coming.length === 0) return null
  return (
    <section class="ahead-first">
      <h2>{t('ahead.first.title')}</h2>
      <ul class="rows">
        {[...coming].sort((a, b) => (a.q50 < b.q50 ? -1 : 1)).map((cut) => <li key={`${cut.stock} ${cut.flush}`}><FirstCutRow cut={cut} /></li>)}
      </ul>
    </section>
  )
}

function FirstCutRow({ cut: { stock, flush, q05, q50, q95, chance } }: { readonly cut: FirstCut }) {
  const name = useNotebook().farm.value.stocks.get(stock)?.name ?? stock
  return (
    <div class="line plain">
      <span><b>{name}</b><span class="small block">{t('ahead.first.range', { flush: t(`flush.${flush}`), from: dayAndMonth(q05), to: dayAndMonth(q95), chance: String(inHundred(chance)) })}</span></span>
      <span class="n">{dayAndMonth(q50)}</span>
    </div>
  )
}
