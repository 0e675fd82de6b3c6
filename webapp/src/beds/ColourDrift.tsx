// Which plants drifted, which are to be watched, and of which nothing can be told, each with why; what held its colour is
// said with what would have been seen.

import type { ComponentChildren } from 'preact'
import { hexOf } from '../colour/shown'
import type { Farm } from '../crop/nouns'
import { count, listed, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { href } from '../ui/route'
import { Marked } from '../ui/Say'
import { WhatIs } from '../ui/WhatIs'
import { AgesSection } from './AgesSection'
import { rangeText } from './ages_sentence'
import type { Shift } from './colour_report'
import type { ColourStand, StandPlant } from './colour_stand'
import { missedText, reasonText, tenth, toldParts, type ToldPart } from './colour_words'
import { bedAndPlace, driftText } from './ColourPlant'
import { TableBox } from './TableBox'
import { Cell, Head as TableHead } from './TableCells'

interface ColourDriftProps {
  readonly farm: Farm
  readonly stand: ColourStand
}

export function ColourDrift({ farm, stand }: ColourDriftProps) {
  const of = (state: StandPlant['state']) => stand.plants.filter((one) => one.state === state)
  const [drift, watch, untold, steady] = [of('drift'), of('watch'), of('cannot_tell'), of('none')]
  const shown = [...drift, ...watch]
  return (
    <>
      <WhatIs of="drift"><h2>{t('colours.drift.title')}</h2></WhatIs>
      {stand.references.filter(({ state }) => state === 'drift').map(({ plant }) => <p key={plant.id} class="note warn">{t('colours.drift.reference', { code: plant.code })}</p>)}
      {shown.length === 0 && <p>{t('colours.drift.none')}</p>}
      {shown.length > 0 && <PlantRows farm={farm} plants={shown} say={(one) => <><Marked text={driftText(one)} /><Reasons one={one} /></>} />}
      {shown.length > 0 && <AgesSection name="colour_parts" title={t('colours.section.parts')}><Parts plants={shown} /></AgesSection>}
      {untold.length > 0 && (
        <AgesSection name="colour_untold" title={t('colours.section.untold', { n: untold.length })} hint={t('colours.section.untold.hint')}>
          <PlantRows farm={farm} plants={untold} say={(one) => <>{whyUntold(one)}</>} />
        </AgesSection>
      )}
      {steady.length > 0 && (
        <AgesSection name="colour_steady" title={t('colours.section.steady', { n: steady.length })} hint={steadyHint(steady)}>
          <Steady farm={farm} plants={steady} />
        </AgesSection>
      )}
    </>
  )
}

function Steady({ farm, plants }: { readonly farm: Farm; readonly plants: readonly StandPlant[] }) {
  return (
    <TableBox caption={t('colours.steady.caption')} beside={2}>
      <thead role="rowgroup">
        <tr role="row"><TableHead>{t('colours.table.plant')}</TableHead><TableHead>{t('colours.table.drift')}</TableHead><TableHead>{t('colours.steady.seen')}</TableHead><TableHead under>{t('colours.steady.place')}</TableHead><TableHead under>{t('colours.steady.mind')}</TableHead></tr>
      </thead>
      <tbody role="rowgroup">
        {plants.map((one) => (
          <tr key={one.plant.id} role="row">
            <Cell><PlantLink one={one} /></Cell>
            <Cell>{one.judged?.shift && <Total shift={one.judged.shift} />}</Cell>
            <Cell>{one.judged?.shift?.noticeable != null && tenth(one.judged.shift.noticeable)}</Cell>
            <Cell under={t('colours.steady.place')}>{bedAndPlace(farm, one)}</Cell>
            <Cell under={t('colours.steady.mind')}>{listed((one.judged?.reasons ?? []).map(reasonText)) || '–'}</Cell>
          </tr>
        ))}
      </tbody>
    </TableBox>
  )
}

/** The largest drift that any of them might have had unseen. */
function steadyHint(steady: readonly StandPlant[]): string {
  const seen = steady.reduce((most, { judged }) => Math.max(most, judged?.shift?.noticeable ?? 0), 0)
  return t('colours.section.steady.hint', { n: tenth(seen) })
}

function whyUntold({ judged }: StandPlant): string {
  if (!judged) return ''
  const why = listed(judged.reasons.map(reasonText))
  return [why === '' ? t('colours.state.cannot_tell') : t('colours.why', { why }), missedText(judged)].filter(Boolean).join(' ')
}

function Reasons({ one: { judged } }: { readonly one: StandPlant }) {
  if (!judged || judged.reasons.length === 0) return null
  return <span class="small block">{t('colours.mind', { why: listed(judged.reasons.map(reasonText)) })}</span>
}

interface PlantRowsProps {
  readonly farm: Farm
  readonly plants: readonly StandPlant[]
  readonly say: (one: StandPlant) => ComponentChildren
}

export function PlantRows({ farm, plants, say }: PlantRowsProps) {
  return (
    <ol class="rows colour-rows">
      {plants.map((one) => (
        <li key={one.plant.id}>
          <a class="line" href={href('beds', 'plant', one.plant.id)}>
            <Head swatch={hexOf(one.colour.lab)} size={36} />
            <span><b>{one.plant.code}</b> <span class="small">{bedAndPlace(farm, one)}</span><span class="block">{say(one)}</span></span>
          </a>
        </li>
      ))}
    </ol>
  )
}

function Parts({ plants }: { readonly plants: readonly StandPlant[] }) {
  const heads = [t('colours.parts.chroma'), t('colours.parts.lightness'), t('colours.parts.hue')]
  return (
    <TableBox caption={t('colours.parts.caption')} beside={1}>
      <thead role="rowgroup">
        <tr role="row"><TableHead>{t('colours.table.plant')}</TableHead><TableHead>{t('colours.parts.total')}</TableHead>{heads.map((head) => <TableHead key={head} under>{head}</TableHead>)}</tr>
      </thead>
      <tbody role="rowgroup">
        {plants.flatMap((one) => (one.judged?.shift ? [
          <tr key={one.plant.id} role="row">
            <Cell><PlantLink one={one} /></Cell>
            <Cell><Total shift={one.judged.shift} /></Cell>
            {toldParts(one.judged.shift).map((part, i) => <Cell key={part.direction} under={heads[i]}><PartText part={part} /></Cell>)}
          </tr>,
        ] : []))}
      </tbody>
    </TableBox>
  )
}

export function PlantLink({ one: { plant, colour } }: { readonly one: StandPlant }) {
  return <a class="bed-link plant-link" href={href('beds', 'plant', plant.id)}><Head swatch={hexOf(colour.lab)} size={22} />{plant.code}</a>
}

function Total({ shift: { total } }: { readonly shift: Pick<Shift, 'total'> }) {
  return <>{count(tenth(total.mean))} <span class="small">{rangeText(tenth(total.lo), tenth(total.hi))}</span></>
}

function PartText({ part: { direction, size, se } }: { readonly part: ToldPart }) {
  return <>{t(`colours.part.${direction}`)} <b>{tenth(size)}</b> <span class="small">{t('colours.give', { n: tenth(se) })}</span></>
}
