// What became of a plant's stems: the days on which it was cut, the lots of its bed those days and who got of them.

import { useState } from 'preact/hooks'
import { soldFrom } from '../crop/lot_trace'
import type { Farm, Plant } from '../crop/nouns'
import { dayName, listed, t } from '../messages/messages'
import { buyerWritten, lotWritten } from '../ui/lot_words'
import { href } from '../ui/route'
import { today } from '../ui/today'

const atFirst = 3

export function PlantSold({ farm, plant }: { readonly farm: Farm; readonly plant: Plant }) {
  const [all, setAll] = useState(false)
  const days = soldFrom(farm, plant.id).filter(({ lots }) => lots.length > 0)
  if (days.length === 0) return null
  return (
    <section>
      <h2>{t('plant_sold.title')}</h2>
      <p class="small">{t('plant_sold.note')}</p>
      <ul class="rows">
        {(all ? days : days.slice(0, atFirst)).map(({ day, lots, buyers }) => (
          <li key={day} class="plant-sold">
            <p><b>{dayName(day, today.value)}</b> {buyers.length === 0 ? t('plant_sold.nobody') : listed(buyers.map((buyer) => buyerWritten(farm, buyer)))}</p>
            <ul>{lots.map((cell) => <li key={cell}><a href={href('shed', 'lot', cell)}>{lotWritten(farm, cell)}</a></li>)}</ul>
          </li>
        ))}
      </ul>
      {!all && days.length > atFirst && <button type="button" class="btn" onClick={() => setAll(true)}>{t('plant_sold.all', { n: days.length })}</button>}
    </section>
  )
}
