// When flushes that have not begun give their first cut, and how likely they come.

import type { FirstCut, ForecastAnswer } from '../forecast/forecast'
import { inHundred } from '../forecast/forecast_words'
import { dayAndMonth, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { WhatIs } from '../ui/WhatIs'

/** Below such a chance a flush is not spoken of. */
const hardlyEver = 0.02

export function FirstCuts({ answer }: { readonly answer: ForecastAnswer }) {
  const coming = answer.first_cuts.filter(({ q95, chance }) => q95 >= today.value && chance >= hardlyEver).sort((a, b) => (a.q50 < b.q50 ? -1 : 1))
  if (coming.length === 0) return null
  const next = coming.filter((cut, i) => coming.findIndex(({ stock }) => stock === cut.stock) === i)
  const after = coming.filter((cut) => !next.includes(cut))
  return (
    <section class="ahead-first">
      <WhatIs of="flush"><h2>{t('ahead.first.title')}</h2></WhatIs>
      <FirstCutRows cuts={next} />
      {after.length > 0 && <details class="ahead-numbers"><summary>{t('ahead.first.after')}</summary><FirstCutRows cuts={after} /></details>}
    </section>
  )
}

function FirstCutRows({ cuts }: { readonly cuts: readonly FirstCut[] }) {
  return <ul class="rows">{cuts.map((cut) => <li key={`${cut.stock} ${cut.flush}`}><FirstCutRow cut={cut} /></li>)}</ul>
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
