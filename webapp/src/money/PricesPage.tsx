// What a stem went for over the season, and what a bunch had to bring.

import { weekCode } from '../crop/week'
import { count, dayAndMonth, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'
import { Marked, Say } from '../ui/Say'
import { type Books, queryOf, shelf } from './books'
import { evenSentences, price, pricesSentence } from './books_words'
import { BooksShown, Doubts } from './BooksShown'
import { drawing, priceLine, type PricePoint, pricePoints } from './prices_line'
import { seasonOpen, useShelf, whence } from './use_shelf'

export function PricesPage() {
  const seen = useShelf(shelf, queryOf({ by: 'week', season: seasonOpen.value, keep: {} }))
  return (
    <>
      <PageHead title={t('prices.title')} back={href('money')}>
        <span class="aside whence" role="status">{whence(seen)}</span>
      </PageHead>
      <div class="page money"><BooksShown seen={seen}>{(books) => <Prices books={books} />}</BooksShown></div>
    </>
  )
}

function Prices({ books }: { readonly books: Books }) {
  const farm = useNotebook().farm.value
  const points = pricePoints(books.rows)
  return (
    <div class="columns">
      <div>
        <Say text={pricesSentence(farm, books, points)} />
        {points.length > 1 && <PriceChart points={points} />}
        {points.length > 0 && <PriceTable points={points} currency={books.currency} />}
      </div>
      <section>
        <h2>{t('even.title')}</h2>
        {evenSentences(books).map((text) => <p key={text}><Marked text={text} /></p>)}
        <Doubts books={books} />
      </section>
    </div>
  )
}

interface PointsProps {
  readonly points: readonly PricePoint[]
  readonly currency: string
}

/** Its axis has no currency, which the table below tells: some write it as long as the amount. */
function PriceChart({ points }: Pick<PointsProps, 'points'>) {
  const { points: at, path, ticks } = priceLine(points)
  const ends = [0, points.length - 1]
  return (
    <svg class="prices" viewBox={`0 0 ${drawing.width} ${drawing.height}`} role="img" aria-label={t('prices.chart')}>
      {ticks.map(({ cents, y }) => (
        <g key={cents}>
          <line class="axis" x1={drawing.left} x2={drawing.width - drawing.right} y1={y} y2={y} />
          <text x={drawing.left - 8} y={y + 6} text-anchor="end">{price(cents, '')}</text>
        </g>
      ))}
      <path d={path} />
      {at.map(({ x, y }, i) => <circle key={points[i]!.week} cx={x} cy={y} r="5" />)}
      {ends.map((i) => <text key={i} x={at[i]!.x} y={drawing.height - 8} text-anchor={i === 0 ? 'start' : 'end'}>{dayAndMonth(points[i]!.week)}</text>)}
    </svg>
  )
}

function PriceTable({ points, currency }: PointsProps) {
  return (
    <table>
      <caption>{t('prices.caption')}</caption>
      <thead><tr><th scope="col">{t('prices.week')}</th><th scope="col">{t('books.col.stems')}</th><th scope="col">{t('books.col.stem')}</th></tr></thead>
      <tbody>
        {points.map(({ week, stems, cents }) => (
          <tr key={week}><th scope="row">{t('books.week', { week: weekCode(week), day: dayAndMonth(week) })}</th><td>{count(stems)}</td><td><b>{price(cents, currency)}</b></td></tr>
        ))}
      </tbody>
    </table>
  )
}
