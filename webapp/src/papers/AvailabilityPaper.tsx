// The sheet of what is on offer: a table for each day, or for several that have the same.

import type { Cents } from '../crop/sale_nouns'
import { count, dateName, dayAndMonth, t } from '../messages/messages'
import { lengthName } from '../ui/lengths'
import { amount } from '../ui/money'
import { useNotebook } from '../ui/notebook'
import { sellerLines } from '../ui/seller'
import { type Offer, spansOf } from './availability'
import type { PriceOf } from './availability_price'
import { colourNamed, gradeNamed } from './paper_words'

interface AvailabilityPaperProps {
  readonly offers: readonly Offer[]
  readonly priceOf: PriceOf | undefined
  readonly bunch: number
}

export function AvailabilityPaper({ offers, priceOf, bunch }: AvailabilityPaperProps) {
  const farm = useNotebook().farm.value
  const spans = spansOf(offers, (offer) => [offer.colour, offer.grade, offer.length.lo, offer.length.hi, offer.stems, offer.cut, priceOf?.(offer)].join('|'))
  return (
    <article class="sheet">
      <div class="letter-seller">{sellerLines(farm).map((line, i) => <div key={i}>{line}</div>)}</div>
      <h2>{t('availability.title')}</h2>
      <p>{t('availability.paper.bunch', { n: bunch })}{spans.length > 1 && ` ${t('availability.once')}`}</p>
      {spans.map(({ from, to, offers: of }) => (
        <section key={from}>
          <h3>{from === to ? dateName(from) : `${dateName(from)} – ${dateName(to)}`}</h3>
          <DayTable offers={of} priceOf={priceOf} bunch={bunch} />
        </section>
      ))}
    </article>
  )
}

/** A length is read in one. */
const noBreak = '\u00a0'

function DayTable({ offers, priceOf }: AvailabilityPaperProps) {
  const farm = useNotebook().farm.value
  const priced = priceOf !== undefined
  const shown = (cents: Cents | undefined) => (cents === undefined ? t('availability.ask') : amount(cents, farm.sales.terms.currency))
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">{t('papers.what')}</th><th scope="col" class="n">{t('papers.bunches.head')}</th><th scope="col" class="n">{t('stems.head')}</th>
          <th scope="col" class="n wide">{t('availability.cut')}</th>{priced && <th scope="col" class="n">{t('papers.price')}</th>}
        </tr>
      </thead>
      <tbody>
        {offers.map((offer) => (
          <tr key={`${offer.colour} ${offer.grade} ${offer.length.lo} ${offer.length.hi}`}>
            <td><b>{colourNamed(farm, offer.colour)}</b>, {[gradeNamed(offer.grade), ...(offer.length.hi === 0 ? [] : [lengthName(offer.length, farm.unit).replace(' ', noBreak)])].join(', ')}<span class="letter-small block narrow">{t('availability.cut')}: {dayAndMonth(offer.cut)}</span></td>
            <td class="n big">{count(offer.bunches)}</td>
            <td class="n">{count(offer.stems)}</td>
            <td class="n wide">{dayAndMonth(offer.cut)}</td>
            {priced && <td class="n">{shown(priceOf(offer))}</td>}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
