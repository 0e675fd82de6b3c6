// The numbers of the drawing: every measured plant's colour, class and difference from its baseline.

import { useState } from 'preact/hooks'
import type { Farm } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { rangeText } from './ages_sentence'
import type { ColourStand, StandPlant } from './colour_stand'
import { beyondScreen, measuredClassText, tenth } from './colour_words'
import { PlantLink } from './ColourDrift'
import { shapeOf } from './ColourMark'
import { TableBox } from './TableBox'
import { Cell, Head } from './TableCells'

const few = 12

export function ColourTable({ farm, stand }: { readonly farm: Farm; readonly stand: ColourStand }) {
  const [all, setAll] = useState(false)
  const plants = [...stand.plants, ...stand.references]
  const shown = all ? plants : plants.slice(0, few)
  return (
    <div class="colour-numbers">
      <TableBox caption={t('colours.table')} beside={4}>
        <thead role="rowgroup">
          <tr role="row">
            <Head>{t('colours.table.plant')}</Head><Head>{t('colours.table.L')}</Head><Head>{t('colours.table.a')}</Head><Head>{t('colours.table.b')}</Head>
            <Head>{t('colours.table.drift')}</Head><Head under>{t('colours.table.class')}</Head><Head under>{t('colours.table.state')}</Head>
          </tr>
        </thead>
        <tbody role="rowgroup">{shown.map((one) => <Row key={one.plant.id} farm={farm} one={one} />)}</tbody>
      </TableBox>
      {plants.length > few && <button type="button" class="btn" aria-expanded={all} onClick={() => setAll(!all)}>{all ? t('colours.fewer') : t('colours.all', { n: plants.length })}</button>}
    </div>
  )
}

function Row({ farm, one }: { readonly farm: Farm; readonly one: StandPlant }) {
  const { colour: { lab }, judged } = one
  const drift = judged?.shift && judged.state !== 'cannot_tell' ? judged.shift.total : undefined
  return (
    <tr role="row">
      <Cell><PlantLink one={one} /></Cell>
      <Cell>{count(Math.round(lab.L))}</Cell><Cell>{count(Math.round(lab.a))}</Cell><Cell>{count(Math.round(lab.b))}</Cell>
      <Cell>{drift ? <>{count(tenth(drift.mean))} <span class="small">{rangeText(tenth(drift.lo), tenth(drift.hi))}</span></> : '–'}</Cell>
      <Cell under={t('colours.table.class')}><span class="wraps">{measuredClassText(farm, one.class)}{beyondScreen(lab) && <span class="small block">{t('colours.beyond.one')}</span>}</span></Cell>
      <Cell under={t('colours.table.state')}><span class="wraps">{t(`colours.mark.${shapeOf(one)}`)}</span></Cell>
    </tr>
  )
}
