// The colours of a batch as numbers, beside those that its drawing shows.

import type { Card } from '../crop/nouns'
import { locale, t } from '../messages/messages'
import { fill } from './CardDrawing'
import { parts } from './card_typed'

export function CardColours({ card }: { readonly card: Card }) {
  return (
    <section class="card">
      <h2>{t('cards.colours')}</h2>
      <table class="card-colours">
        <thead><tr><th scope="col">{t('cards.colours.colour')}</th>{parts.map((part) => <th key={part} scope="col">{part}</th>)}</tr></thead>
        <tbody>
          {card.patches.map((lab, i) => (
            <tr key={i}>
              <th scope="row"><Swatch colour={fill(card.patches, i)} />{colourName(i)}</th>
              {parts.map((part) => <td key={part}>{tenths(lab[part])}</td>)}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small">{t('cards.colours.note')}</p>
    </section>
  )
}

/** A part of a colour in tenths, never as less than nothing by rounding. */
export function tenths(part: number): string {
  const digits = new Intl.NumberFormat(locale.value, { minimumFractionDigits: 1, maximumFractionDigits: 1 })
  return digits.format(Math.round(part * 10) / 10 || 0).replace(/^-/, '−')
}

export function Swatch({ colour }: { readonly colour: string }) {
  return <svg class="card-swatch" viewBox="0 0 20 20" aria-hidden="true"><rect x="1" y="1" width="18" height="18" rx="4" fill={colour} /></svg>
}

/** What each colour is called, in the order of the geometry. */
const names = ['grey1', 'grey2', 'grey3', 'grey4', 'grey5', 'red', 'orange', 'yellow', 'green', 'violet', 'pink', 'paper'] as const

export function colourName(colour: number): string {
  const name = names[colour]
  return name ? t(`cards.colour.${name}`) : ''
}
