// The day's round for the driver: where to, how many bunches, what to mind.

import type { Day } from '../crop/nouns'
import { dateName, t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import type { Delivery } from './day_papers'
import { linesOfText, packedWords } from './paper_words'
import { buyerNamed, buyerOf } from './papers_farm'

export function RoundPaper({ deliveries, day }: { readonly deliveries: readonly Delivery[]; readonly day: Day }) {
  const bunches = deliveries.reduce((sum, one) => sum + one.bunches, 0)
  return (
    <article class="sheet">
      <h2>{t('papers.round.head', { day: dateName(day) })}</h2>
      <p>{t('papers.round.sum', { stops: t('papers.stops', { n: deliveries.length }), bunches: t('papers.bunches', { n: bunches }) })} {t('papers.round.care')}</p>
      <ol class="stops">{deliveries.map((one, i) => <Stop key={`${one.order} ${one.buyer}`} delivery={one} n={i + 1} />)}</ol>
    </article>
  )
}

function Stop({ delivery, n }: { readonly delivery: Delivery; readonly n: number }) {
  const farm = useNotebook().farm.value
  const buyer = buyerOf(farm, delivery.buyer)
  const notes = [delivery.note, buyer?.note ?? ''].filter((note) => note.trim() !== '')
  return (
    <li class="stop">
      <span class="stop-n">{n}</span>
      <div>
        <h3>{buyerNamed(farm, delivery.buyer)}</h3>
        <address>{linesOfText(buyer?.address ?? '').map((line) => <div key={line}>{line}</div>)}</address>
        {buyer?.phone ? <p>{t('papers.phone')} <a href={`tel:${buyer.phone.replaceAll(/[^\d+]/g, '')}`}>{buyer.phone}</a></p> : <p>{t('papers.phone.none')}</p>}
        {notes.map((note) => <p key={note} class="stop-note">{note}</p>)}
        <ul>{delivery.lines.filter((line) => line.bunches > 0).map((line) => <li key={line.id}>{t('papers.bunches', { n: line.bunches })}: {packedWords(farm, line)}</li>)}</ul>
      </div>
      <div class="stop-bunches"><b>{delivery.bunches}</b>{t('papers.bunches.word', { n: delivery.bunches })}<span class="tick-box" /></div>
    </li>
  )
}
