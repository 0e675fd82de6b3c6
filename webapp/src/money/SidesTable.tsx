// First-, second- and later-season plants side by side, each number a plant's.

import { count, decimal, t } from '../messages/messages'
import { Say } from '../ui/Say'
import type { Books, Side } from './books'
import { price } from './books_words'

const ages = ['1', '2', '3+'] as const

export function SidesTable({ books: { sides, currency } }: { readonly books: Books }) {
  const shown = ages.flatMap((age) => sides.filter((side) => side.age === age && side.plants > 0).map((side) => ({ age, side })))
  if (shown.length === 0) return <p>{t('worth.none')}</p>
  const [first, second] = [shown.find(({ age }) => age === '1'), shown.find(({ age }) => age === '2')]
  return (
    <section>
      <h2>{t('sides.title')}</h2>
      {first && second && <Say text={t('sides.say', { first: price(first.side.left_a_plant, currency), second: price(second.side.left_a_plant, currency) })} />}
      <table>
        <caption>{t('sides.caption')}</caption>
        <thead><tr><th scope="col">{t('sides.what')}</th>{shown.map(({ age }) => <th key={age} scope="col">{t(`sides.age.${age}`)}</th>)}</tr></thead>
        <tbody>
          {lines(currency).map(([head, of]) => (
            <tr key={head}><th scope="row">{head}</th>{shown.map(({ age, side }) => <td key={age}>{of(side)}</td>)}</tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function lines(currency: string): readonly (readonly [string, (side: Side) => string])[] {
  const tenths = (n: number | null) => (n === null ? '–' : decimal(n, 1))
  return [
    [t('sides.plants'), ({ plants }) => count(plants)],
    [t('sides.cut'), (side) => tenths(side.cut_a_plant)],
    [t('sides.saleable'), ({ saleable }) => (saleable === null ? '–' : decimal(saleable * 100, 0))],
    [t('sides.sold'), (side) => tenths(side.sold_a_plant)],
    [t('sides.price'), (side) => price(side.price_a_stem, currency)],
    [t('sides.net'), (side) => price(side.net_a_plant, currency)],
    [t('sides.minutes'), (side) => tenths(side.minutes_a_plant)],
    [t('sides.work'), (side) => price(side.work_a_plant, currency)],
    [t('sides.left'), (side) => price(side.left_a_plant, currency)],
  ]
}
