// The day's round for the driver: where to, how many bunches, what to mind. Stops are moved up and down on the screen.

import type { ComponentChildren, TargetedMouseEvent } from 'preact'
import type { Day } from '../crop/nouns'
import { buyerOf } from '../crop/price_of'
import type { BuyerID } from '../crop/sale_nouns'
import { dateName, t } from '../messages/messages'
import { announce } from '../ui/announce'
import { Icon } from '../ui/Icon'
import { useNotebook } from '../ui/notebook'
import type { Delivery } from './day_papers'
import { linesOfText } from '../ui/seller'
import { packedWords } from './paper_words'
import { buyerNamed } from './papers_farm'
import { keepRoundOrder, movedStop, roundOrder } from './round_order'

/** Deliveries in the order of the round. */
export function RoundPaper({ deliveries, day }: { readonly deliveries: readonly Delivery[]; readonly day: Day }) {
  const notebook = useNotebook()
  const farm = notebook.farm.value
  const bunches = deliveries.reduce((sum, one) => sum + one.bunches, 0)
  const [first, last] = [deliveries[0]?.buyer, deliveries.at(-1)?.buyer]
  const move = async (buyer: BuyerID, by: -1 | 1, button: HTMLButtonElement) => {
    await keepRoundOrder(notebook, movedStop(deliveries, roundOrder.peek(), buyer, by))
    announce(t('papers.round.moved', { buyer: buyerNamed(farm, buyer) }))
    button.focus() // it went with its stop, and comes into view
  }
  return (
    <article class="sheet">
      <h2>{t('papers.round.head', { day: dateName(day) })}</h2>
      <p>{t('papers.round.sum', { stops: t('papers.stops', { n: deliveries.length }), bunches: t('papers.bunches', { n: bunches }) })} {t('papers.round.care')}</p>
      <ol class="stops">
        {deliveries.map((one, i) => (
          <Stop key={`${one.order} ${one.buyer}`} delivery={one} n={i + 1}>
            {first !== last && <Moving buyer={one.buyer} up={one.buyer !== first} down={one.buyer !== last} onMove={move} />}
          </Stop>
        ))}
      </ol>
    </article>
  )
}

interface MovingProps {
  readonly buyer: BuyerID
  readonly up: boolean
  readonly down: boolean
  readonly onMove: (buyer: BuyerID, by: -1 | 1, button: HTMLButtonElement) => Promise<void>
}

function Moving({ buyer, up, down, onMove }: MovingProps) {
  const name = buyerNamed(useNotebook().farm.value, buyer)
  const by = (steps: -1 | 1) => (event: TargetedMouseEvent<HTMLButtonElement>) => void onMove(buyer, steps, event.currentTarget)
  return (
    <div class="stop-move">
      <button type="button" class="btn" disabled={!up} aria-label={t('papers.round.up', { buyer: name })} onClick={by(-1)}><Icon name="up" /></button>
      <button type="button" class="btn" disabled={!down} aria-label={t('papers.round.down', { buyer: name })} onClick={by(1)}><Icon name="down" /></button>
    </div>
  )
}

interface StopProps {
  readonly delivery: Delivery
  readonly n: number
  readonly children: ComponentChildren
}

function Stop({ delivery, n, children }: StopProps) {
  const farm = useNotebook().farm.value
  const buyer = buyerOf(farm.sales, delivery.buyer)
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
      <div class="stop-bunches"><b>{delivery.bunches}</b>{t('papers.bunches.word', { n: delivery.bunches })}<span class="tick-box" />{children}</div>
    </li>
  )
}
