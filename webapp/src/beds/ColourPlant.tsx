// The plant that was chosen in the drawing: its colour, its class, whether it drifted, and the way to it.

import { hexOf } from '../colour/shown'
import type { Farm, PlantID } from '../crop/nouns'
import { t } from '../messages/messages'
import { Head } from '../ui/Head'
import { href } from '../ui/route'
import { Marked } from '../ui/Say'
import { whereStands } from '../ui/words'
import { bedOf } from '../crop/places'
import type { StandPlant } from './colour_stand'
import { beyondScreen, labText, measuredClassText, missedText, partsText, stateText, tenth, toldParts } from './colour_words'
import { rangeText } from './ages_sentence'

interface ColourPlantProps {
  readonly farm: Farm
  readonly one: StandPlant
  /** The plants before and after it. */
  readonly before: PlantID | undefined
  readonly after: PlantID | undefined
  readonly onChoose: (plant: PlantID) => void
  /** Wants plants like it. */
  readonly onLike: () => void
}

export function ColourPlant({ farm, one, before, after, onChoose, onLike }: ColourPlantProps) {
  const { plant, colour } = one
  return (
    <section class="card colour-plant" aria-live="polite">
      <div class="colour-plant-top">
        <Head swatch={hexOf(colour.lab)} size={64} />
        <p><b>{plant.code}</b> <span class="small block">{bedAndPlace(farm, one)}</span><span class="small block">{measuredClassText(farm, one.class)}</span></p>
      </div>
      <p><Marked text={driftText(one)} /></p>
      <p class="small">{labText(colour.lab)}{beyondScreen(colour.lab) && ` · ${t('colours.beyond.one')}`}</p>
      <a class="btn" href={href('beds', 'plant', plant.id)}>{t('colours.open', { code: plant.code })}</a>
      <div class="buttons">
        <button type="button" class="btn" disabled={before === undefined} onClick={() => before !== undefined && onChoose(before)}>{t('colours.before')}</button>
        <button type="button" class="btn" disabled={after === undefined} onClick={() => after !== undefined && onChoose(after)}>{t('colours.after')}</button>
        <button type="button" class="btn" onClick={onLike}>{t('colours.like')}</button>
      </div>
    </section>
  )
}

export function bedAndPlace(farm: Farm, { plant }: Pick<StandPlant, 'plant'>): string {
  const bed = bedOf(farm, plant)
  return [bed === undefined ? undefined : farm.beds.get(bed)?.name, whereStands(farm, plant)].filter(Boolean).join(' · ')
}

/** "Drifted by 5.7 (4.6 to 6.6) since 2024: paler by 5.2." */
export function driftText({ judged, plant }: Pick<StandPlant, 'judged' | 'plant'>): string {
  const off = judged?.state === 'drift' || judged?.state === 'watch'
  if (plant.reference && !off) return t('colours.state.reference')
  if (!judged) return t('colours.state.first')
  if (!judged.shift || !off) return [stateText(judged), missedText(judged)].filter(Boolean).join(' ')
  const { total } = judged.shift
  const parts = partsText(toldParts(judged.shift))
  const told = { n: tenth(total.mean), range: rangeText(tenth(total.lo), tenth(total.hi)), since: String(judged.baseline), parts }
  const state = judged.state === 'drift' ? 'drift' : 'watch'
  return parts === '' ? t(`colours.drifted.${state}`, told) : t(`colours.drifted.${state}.how`, told)
}
