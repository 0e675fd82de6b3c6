// What a grower would say of the stand's colour, in the words that lead the page.

import { difference } from '../colour/difference'
import type { Lab } from '../colour/lab'
import type { Season } from '../crop/nouns'
import { listed, t } from '../messages/messages'
import { inHundred, rangeText } from './ages_sentence'
import { labOf, type StandShift } from './colour_report'
import type { ColourStand, StandPlant, StandState } from './colour_stand'
import { hueDirection, partsText, tenth, type ToldPart } from './colour_words'

export function countOf(plants: readonly StandPlant[], state: StandState): number {
  return plants.filter((one) => one.state === state).length
}

/** "Of 42 plants measured this season 3 have drifted, 1 is to be watched, and of 5 nothing can be told." */
export function plantsSentence({ plants, references, season }: Pick<ColourStand, 'plants' | 'references' | 'season'>, now: Season): string {
  const n = plants.length
  if (n === 0) return t(references.length === 0 ? 'colours.say.lifted' : 'colours.say.references', { season: String(season) })
  if (countOf(plants, 'first') === n) return t('colours.say.first', { n, season: String(season) })
  const of = season === now ? t('colours.say.of', { n }) : t('colours.say.of.season', { n, season: String(season) })
  const [drift, watch, untold, first, steady] = (['drift', 'watch', 'cannot_tell', 'first', 'none'] as const).map((state) => countOf(plants, state))
  const parts = [
    drift ? t('colours.say.drift', { n: drift }) : t('colours.say.no_drift'),
    ...(watch ? [t('colours.say.watch', { n: watch })] : []),
    ...(untold ? [t('colours.say.cannot_tell', { n: untold })] : []),
    ...(first ? [t('colours.say.new', { n: first })] : []),
    ...(steady ? [t('colours.say.steady', { n: steady })] : []),
  ]
  return t('colours.say', { of, parts: listed(parts) })
}

/** What the whole stand did, in a sentence; '' in its first season. */
export function standSentence({ shift, plants, level }: Pick<ColourStand, 'shift' | 'plants' | 'level'>): string {
  if (!shift) return ''
  const since = String(shift.since)
  if (!shift.told) return t('colours.stand.untold', { since })
  const words = { since, n: tenth(shift.total.mean), range: rangeText(tenth(shift.total.lo), tenth(shift.total.hi)) }
  if (!shift.moved) return t('colours.stand.still', { ...words, hundred: inHundred(level) })
  const parts = partsText(standParts(shift, middleOf(plants)))
  return parts === '' ? t('colours.stand.moved', words) : t('colours.stand.moved.how', { ...words, parts })
}

/** The parts of the stand's shift at the middle of its colours; those that are a small part of the whole are left out. */
function standParts({ shift, total }: StandShift, to: Lab): readonly ToldPart[] {
  const from = { L: to.L - shift.l, a: to.a - shift.a, b: to.b - shift.b }
  const { lightness, chroma, hue } = difference(from, to)
  const part = (size: number, direction: ToldPart['direction']): ToldPart => ({ size: Math.abs(size), direction, se: 0, clear: Math.abs(size) >= 0.4 * total.mean })
  return [part(chroma, chroma < 0 ? 'paler' : 'deeper'), part(lightness, lightness < 0 ? 'darker' : 'lighter'), part(hue, hueDirection(from, hue))]
}

function middleOf(plants: readonly StandPlant[]): Lab {
  const mean = (of: (lab: Lab) => number) => plants.reduce((sum, { colour }) => sum + of(colour.lab), 0) / Math.max(1, plants.length)
  return { L: mean(({ L }) => L), a: mean(({ a }) => a), b: mean(({ b }) => b) }
}

export function arrowOf({ judged, colour: { lab } }: StandPlant): { readonly from: Lab; readonly to: Lab } | undefined {
  if (!judged?.shift) return undefined
  const by = labOf(judged.shift.by)
  return { from: { L: lab.L - by.L, a: lab.a - by.a, b: lab.b - by.b }, to: lab }
}
