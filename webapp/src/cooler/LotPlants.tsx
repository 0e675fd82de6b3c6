// The plants and plantings behind a lot: a bucket does not know its plants, so they are those of its bed and day.

import { stemsIn } from '../crop/bed_day'
import type { Behind } from '../crop/lot_trace'
import type { Farm } from '../crop/nouns'
import type { LotID } from '../crop/sale_nouns'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { href } from '../ui/route'
import { swatchOf } from '../ui/words'

const shown = 12

export function LotPlants({ farm, behind, lot }: { readonly farm: Farm; readonly behind: Behind; readonly lot: LotID }) {
  const likely = behind.plants.filter(({ plant }) => lot.colour === '' || plant.colour === '' || plant.colour === lot.colour)
  return (
    <>
      <h2>{t('lot.plantings')}</h2>
      {behind.plantings.length === 0 && <p class="small">{t('lot.plantings.none')}</p>}
      <ul class="rows">
        {behind.plantings.map(({ planting, age }) => (
          <li key={planting.id}><div class="line plain">
            <span>{farm.stocks.get(planting.stock)?.name ?? t('stock.unknown')}</span>
            <span>{t('season.in_ground', { age })}</span>
          </div></li>
        ))}
      </ul>
      {behind.ages.length > 1 && <p class="small">{t('lot.ages.several')}</p>}
      <h2>{t('lot.plants')}</h2>
      <p class="small">{likely.length === 0 ? t('lot.plants.none') : t('lot.plants.say', { n: likely.length })}</p>
      <div class="choices">
        {likely.slice(0, shown).map(({ plant, visit }) => (
          <a key={visit.id} class="btn" href={href('beds', 'plant', plant.id)}>
            <Head swatch={swatchOf(farm, plant)} size={26} /><span>{plant.code}<span class="small block">{t('stems', { n: stemsIn(visit) })}</span></span>
          </a>
        ))}
      </div>
      {likely.length > shown && <details class="which">
        <summary>{t('lot.plants.more', { n: likely.length - shown })}</summary>
        <div class="choices">
          {likely.slice(shown).map(({ plant, visit }) => <a key={visit.id} class="btn" href={href('beds', 'plant', plant.id)}>{plant.code}</a>)}
        </div>
      </details>}
    </>
  )
}
