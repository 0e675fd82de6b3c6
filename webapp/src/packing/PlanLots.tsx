// The lots that lie in the cooler with vase life left for the day, and what of each the plan leaves for nobody.

import { lotCell } from '../crop/lots'
import type { ColourID, Day } from '../crop/nouns'
import type { Cents } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { ByColour } from '../ui/ByColour'
import { Head } from '../ui/Head'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { useRights } from '../ui/rights'
import { today } from '../ui/today'
import { lotName, lotWhence } from '../ui/lot_words'
import { dayNow } from './day_now'
import type { PackingAnswer } from './packing_answer'

interface PlanLotsProps {
  readonly day: Day
  readonly answer: PackingAnswer | undefined
}

export function PlanLots({ day, answer }: PlanLotsProps) {
  const farm = useNotebook().farm.value
  const money = useRights().manage ? answer?.money : undefined
  const now = dayNow(farm, day, today.value)
  const fresh = now.lots
  const planned = now.meant(answer).all
  const unsold = fresh.reduce((sum, lot) => sum + Math.max(lot.left - (planned.get(lotCell(lot.id)) ?? 0), 0), 0)
  return (
    <section>
      <h2>{t('packing.lots')}</h2>
      {fresh.length === 0 && <p class="small">{t('packing.lots.none')}</p>}
      {answer && unsold > 0 && <p class="small">{t('packing.unsold', { n: unsold })}</p>}
      <ByColour farm={farm} of={fresh} colour={({ id }) => id.colour} stems={({ left }) => left} row={({ id, left, daysLeft }) => {
        const cell = lotCell(id)
        const worth = money?.one_stem[cell] ?? 0
        const said = [
          lotWhence(farm, id), daysLeft === 0 ? t('packing.lot.last') : t('packing.lot.days', { n: daysLeft }),
          ...(worth > 0 ? [t('packing.lot.worth', { amount: amount(worth as Cents, farm.sales.terms.currency) })] : []),
        ]
        return (
          <li key={cell}>
            <div class="line">
              <Head swatch={farm.colours.get(id.colour as ColourID)?.swatch ?? ''} size={32} />
              <span><b>{lotName(farm, id)}</b><span class="small block">{said.join(', ')}</span></span>
              <span class="small lot-count">{answer ? t('packing.lot.planned', { planned: Math.min(planned.get(cell) ?? 0, left), n: left }) : t('packing.stems', { n: left })}</span>
            </div>
          </li>
        )
      }} />
    </section>
  )
}
