// What a measurement says, in words: each problem by what to do about it, how sure the colour is, how wide the head is.

import type { Measurement, Problem } from '../colourcard/measurement'
import type { Lab } from '../colour/lab'
import type { Farm, LengthUnit, Reading } from '../crop/nouns'
import { decimal, t } from '../messages/messages'
import { centimetresIn } from '../ui/lengths'
import { wordsOf } from './colour_words'
import { nearestClass } from './nearest_class'
import { surenessOf, uncertaintyOf } from './uncertainty'

/** A few words, to be read at arm's length. */
export function problemShort(problem: Problem): string {
  return t(`measuring.short.${problem}`)
}

/** What to do about it. */
export function problemText(problem: Problem): string {
  return t(`measuring.do.${problem}`)
}

/** "strong pink" */
export function colourText(lab: Lab): string {
  const { hue, manner } = wordsOf(lab)
  return t(`measuring.manner.${manner}`, { hue: t(`measuring.hue.${hue}`) })
}

/** "L* 52.1, a* 38.0, b* 4.2" */
export function labText({ L, a, b }: Lab): string {
  return t('measuring.lab', { l: decimal(L, 1), a: decimal(a, 1), b: decimal(b, 1) })
}

/** "±1.2: good." */
export function surenessText(lab: Lab, se: Lab): string {
  const uncertainty = uncertaintyOf(lab, se)
  return t(`measuring.sure.${surenessOf(uncertainty)}`, { n: decimal(uncertainty, 1) })
}

/** "±1.2" */
export function uncertaintyText(lab: Lab, se: Lab): string {
  return t('measuring.uncertainty', { n: decimal(uncertaintyOf(lab, se), 1) })
}

/** "8.4 cm ± 0.3 wide", of a width and its standard uncertainty in centimetres. */
export function spreadText(spread: number, se: number, unit: LengthUnit): string {
  const [width, error] = [spread, se].map((cm) => decimal(centimetresIn(cm, unit), 1))
  return t(unit === 'in' ? 'measuring.spread.in' : 'measuring.spread.cm', { width: width!, error: error! })
}

export function measuredSpreadText({ spread, spreadSE }: Pick<Measurement, 'spread' | 'spreadSE'>, unit: LengthUnit): string | undefined {
  return spread === undefined ? undefined : spreadText(spread, spreadSE ?? 0, unit)
}

export function readingSpreadText({ spread, spreadSE }: Pick<Reading, 'spread' | 'spreadSE'>, unit: LengthUnit): string | undefined {
  return spread === 0 ? undefined : spreadText(spread / 10, spreadSE / 10, unit)
}

/** Which class it is nearest to; undefined where none was measured. */
export function nearestText(farm: Pick<Farm, 'colours'>, lab: Lab): string | undefined {
  const nearest = nearestClass(farm, lab)
  return nearest && t('measuring.nearest', { name: nearest.colour.name, n: decimal(nearest.away, 1) })
}
