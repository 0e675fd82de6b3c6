// The sheet of what is safe to offer: a table for each week.

import { count, dateName, t } from '../messages/messages'
import { weekName } from '../forecast/forecast_words'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { colourCalled, qualityText } from '../ui/sale_words'
import { sellerLines } from '../ui/seller'
import { today } from '../ui/today'
import type { WeekOffers } from './weeks_offers'
import type { PriceOf } from './weeks_price'

interface WeeksPaperProps {
  readonly weeks: readonly WeekOffers[]
  readonly priceOf: PriceOf | undefined
}

export function WeeksPaper({ weeks, priceOf }: WeeksPaperProps) {
  const farm = useNotebook().farm.value
  return (
    <article class="sheet">
      <div class="weeks-seller">{sellerLines(farm).map((line, i) => <div key={i}>{line}</div>)}</div>
      <h2>{t('weeks.paper.title')}</h2>
      <p>{t('weeks.paper.how', { day: dateName(today.value) })}</p>
      {weeks.filter(({ offers }) => offers.length > 0).map((week) => (
        <section key={week.from} class="weeks-week">
          <h3>{weekName(week.from, undefined, week.to)}</h3>
          <WeekTable week={week} priceOf={priceOf} />
        </section>
      ))}
    </article>
  )
}

function WeekTable({ week: { from, offers }, priceOf }: { readonly week: WeekOffers; readonly priceOf: PriceOf | undefined }) {
  const farm = useNotebook().farm.value
  const price = (cents: ReturnType<PriceOf>) => (cents === undefined ? t('availability.ask') : amount(cents, farm.sales.terms.currency))
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{t('papers.what')}</th><th scope="col" class="n">{t('papers.bunches.head')}</th><th scope="col" class="n">{t('papers.each')}</th>
          {priceOf && <th scope="col" class="n">{t('papers.price')}</th>}
        </tr>
      </thead>
      <tbody>
        {offers.map((offer) => (
          <tr key={`${offer.colour} ${offer.rule.id}`}>
            <td><b>{offer.colour === '' ? t('weeks.mixed') : colourCalled(farm, offer.colour)}</b>, <span>{qualityText(farm, offer.rule) || offer.rule.name}</span></td>
            <td class="n big">{count(offer.bunches)}</td>
            <td class="n">{count(offer.rule.stems)}</td>
            {priceOf && <td class="n">{price(priceOf(offer, from))}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
