// The plants nearest to a colour that is wanted: a class's, a plant's, or one that is entered.

import { useState } from 'preact/hooks'
import { hexOf } from '../colour/shown'
import { limitOf } from '../crop/colour_class'
import type { Lab } from '../colour/lab'
import type { Colour, Farm } from '../crop/nouns'
import { count, t } from '../messages/messages'
import { Head } from '../ui/Head'
import { nearestPlants } from './colour_nearest'
import type { ColourStand } from './colour_stand'
import { beyondScreen, classSwatch, labText, tenth } from './colour_words'
import { PlantRows } from './ColourDrift'
import { ColourField } from './ColourField'

/** What is wanted: a class, a plant's own colour, or one by hand. */
export interface Wanted {
  readonly from: 'class' | 'plant' | 'hand'
  readonly name: string
  readonly lab: Lab
  readonly id: string
}

interface ColourNearestProps {
  readonly farm: Farm
  readonly stand: ColourStand
  readonly wanted: Wanted | undefined
  readonly onWant: (wanted: Wanted) => void
}

const few = 8

export function ColourNearest({ farm, stand, wanted, onWant }: ColourNearestProps) {
  const [all, setAll] = useState(false)
  const [byHand, setByHand] = useState(wanted?.from === 'hand')
  const classes = [...farm.colours.values()].filter((one): one is Colour & { lab: Lab } => one.lab !== undefined)
  const near = wanted ? nearestPlants([...stand.plants, ...stand.references], wanted.lab) : []
  const limit = wanted?.from === 'class' ? limitOf(farm.colours.get(wanted.id as Colour['id']) ?? { limit: 0 }) : undefined
  const shown = all ? near : near.slice(0, few)
  return (
    <>
      <div class="choices" role="group" aria-label={t('colours.near.wanted')}>
        {classes.map((one) => (
          <button
            key={one.id} type="button" class="btn colour" aria-pressed={wanted?.id === one.id && !byHand}
            onClick={() => { setByHand(false); onWant({ from: 'class', name: one.name, lab: one.lab, id: one.id }) }}
          >
            <Head swatch={classSwatch(one)} size={30} />{one.name}
          </button>
        ))}
        <button type="button" class="btn" aria-pressed={byHand} aria-expanded={byHand} onClick={() => setByHand(!byHand)}>{t('colours.near.hand')}</button>
      </div>
      {byHand && <ColourField start={wanted?.lab} onColour={(lab) => onWant({ from: 'hand', name: t('colours.near.yours'), lab, id: '' })} />}
      {!wanted && <p class="small">{t('colours.near.choose')}</p>}
      {wanted && (
        <>
          <p class="small near-to"><Head swatch={hexOf(wanted.lab)} size={30} /><span>{t('colours.near.to', { name: wanted.name })} {labText(wanted.lab)}{beyondScreen(wanted.lab) && ` · ${t('colours.beyond.one')}`}</span></p>
          {limit !== undefined && <p class="small">{t('colours.near.limit', { n: near.filter(({ away }) => away <= limit).length, limit: tenth(limit) })}</p>}
          <PlantRows
            farm={farm} plants={shown.map(({ one }) => one)}
            say={(one) => {
              const at = shown.find((near) => near.one === one)
              return at ? t('colours.near.away', { n: count(tenth(at.away)), se: count(tenth(at.se)) }) : ''
            }}
          />
          {near.length > few && <button type="button" class="btn" aria-expanded={all} onClick={() => setAll(!all)}>{all ? t('colours.fewer') : t('colours.all', { n: near.length })}</button>}
        </>
      )}
    </>
  )
}
