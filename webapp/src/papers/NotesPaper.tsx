// A delivery note for each order: what came, how many, of which lots; no prices.

import { count, dateName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import type { Delivery } from './day_papers'
import { LetterHead } from './LetterHead'
import { headToday } from './papers_farm'
import { lotPlaces, packedWords } from './paper_words'

export function NotesPaper({ deliveries }: { readonly deliveries: readonly Delivery[] }) {
  return <>{deliveries.map((one) => <DeliveryNote key={`${one.order} ${one.buyer}`} delivery={one} />)}</>
}

function DeliveryNote({ delivery }: { readonly delivery: Delivery }) {
  const farm = useNotebook().farm.value
  const lines = delivery.lines.filter((line) => line.bunches > 0 || (line.line?.bunches ?? 0) > 0)
  const stems = lines.reduce((sum, line) => sum + line.bunches * (line.line?.stems ?? 0), 0)
  return (
    <article class="sheet letter">
      <LetterHead title={t('papers.note.title')} head={headToday(farm, delivery.buyer)}>
        <dt>{t('papers.delivered')}</dt><dd>{dateName(delivery.day)}</dd>
        <dt>{t('papers.bunches.head')}</dt><dd>{count(delivery.bunches)}</dd>
        {stems > 0 && <><dt>{t('papers.stems.head')}</dt><dd>{count(stems)}</dd></>}
      </LetterHead>
      <table>
        <thead>
          <tr>
            <th scope="col">{t('papers.what')}</th><th scope="col" class="n">{t('papers.bunches.head')}</th>
            <th scope="col" class="n">{t('papers.each')}</th><th scope="col" class="wide">{t('papers.lots')}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.id}>
              <td>{packedWords(farm, line)}{lotPlaces(farm, line).map((place) => <span key={place} class="letter-small block narrow">{place}</span>)}</td>
              <td class="n">{line.line && line.line.bunches !== line.bunches ? t('papers.of', { n: line.bunches, of: line.line.bunches }) : count(line.bunches)}</td>
              <td class="n">{line.line ? count(line.line.stems) : ''}</td>
              <td class="wide">{lotPlaces(farm, line).map((place) => <div key={place}>{place}</div>)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {delivery.note.trim() !== '' && <p>{delivery.note}</p>}
      <div class="letter-sign"><span>{t('papers.received')}</span><span>{t('papers.received.when')}</span></div>
    </article>
  )
}
