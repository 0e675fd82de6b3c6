// A small label for each bunch, several to a sheet.

import { dayAndMonth, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import { type Delivery, slipsOf } from './day_papers'
import { lotPlaces, packedWords } from './paper_words'
import { buyerNamed } from './papers_farm'

export function SlipsPaper({ deliveries }: { readonly deliveries: readonly Delivery[] }) {
  const farm = useNotebook().farm.value
  return (
    <ul class="slips">
      {slipsOf(deliveries).map(({ buyer, day, line, n }) => (
        <li key={`${line.id} ${n}`} class="slip">
          <p class="slip-buyer">{buyerNamed(farm, buyer)}</p>
          <p class="slip-what">{packedWords(farm, line)}</p>
          <p>{line.line && t('papers.stems', { n: line.line.stems })}<span class="slip-n">{t('papers.of', { n, of: line.bunches })}</span></p>
          {lotPlaces(farm, line).map((place) => <p key={place}>{place}</p>)}
          {line.lots.length === 0 && <p>{t('papers.lot.untold')}</p>}
          <p class="slip-farm">{t('papers.slip.foot', { farm: farm.name, day: dayAndMonth(day) })}</p>
        </li>
      ))}
    </ul>
  )
}
