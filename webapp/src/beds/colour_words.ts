// How colours and their differences are said: paler or deeper, lighter or darker, and which way round.

import type { Lab } from '../colour/lab'
import { chroma } from '../colour/lab'
import { hexOf, show } from '../colour/shown'
import type { PlantClass } from '../crop/colour_class'
import type { Colour, Farm } from '../crop/nouns'
import { count, hasMessage, listed, t, tCode } from '../messages/messages'
import { labOf, type Part, type PlantSeason, type Shift } from './colour_report'
import { inHundred } from './ages_sentence'

export function beyondScreen(lab: Lab): boolean {
  return show(lab).mapped
}

/** How a class is painted: as it was measured, else as it was picked by eye. */
export function classSwatch(colour: Colour | undefined): string {
  if (!colour) return ''
  return colour.lab ? hexOf(colour.lab) : colour.swatch
}

export type Direction = 'lighter' | 'darker' | 'deeper' | 'paler' | 'redder' | 'yellower' | 'greener' | 'bluer'

/** One part of a difference in words, with its size and standard error, both at least 0. */
export interface ToldPart {
  readonly direction: Direction
  readonly size: number
  readonly se: number
  /** Whether it is more than its own uncertainty, at nine in ten. */
  readonly clear: boolean
}

const nineInTen = 1.645

export function toldParts({ from, lightness, chroma: strength, hue }: Pick<Shift, 'from' | 'lightness' | 'chroma' | 'hue'>): readonly ToldPart[] {
  return [
    told(strength, strength.value < 0 ? 'paler' : 'deeper'),
    told(lightness, lightness.value < 0 ? 'darker' : 'lighter'),
    told(hue, hueDirection(labOf(from), hue.value)),
  ]
}

function told({ value, se }: Part, direction: Direction): ToldPart {
  return { direction, size: Math.abs(value), se, clear: Math.abs(value) > nineInTen * se }
}

/** What lies on the way round, a quarter turn apart as the axes of the plane are; `further` is so near that it is behind. */
const further = 10
const onTheWay: readonly (readonly [number, Direction])[] = [[0, 'redder'], [90, 'yellower'], [180, 'greener'], [270, 'bluer']]

/** Towards which colour a turn of the hue goes: what comes next that way round. */
export function hueDirection({ a, b }: Lab, turn: number): Direction {
  const at = (Math.atan2(b, a) * 180) / Math.PI
  const ahead = (mark: number) => ((((turn < 0 ? at - mark : mark - at) - further) % 360) + 360) % 360
  return [...onTheWay].sort(([one], [other]) => ahead(one) - ahead(other))[0]![1]
}

/** "paler by 5.2 and lighter by 2.4"; '' where no part is clear of its uncertainty. */
export function partsText(parts: readonly ToldPart[]): string {
  const clear = parts.filter((part) => part.clear).sort((a, b) => b.size - a.size)
  return clear.length === 0 ? '' : listed(clear.map(({ direction, size }) => t(`colours.by.${direction}`, { n: tenth(size) })))
}

/** Why nothing better is said of a plant-season, in the language in use; a reason of a later version as it stands. */
export function reasonText(reason: string): string {
  const key = `colours.reason.${reason}`
  return hasMessage(key) ? tCode(key, {}) : reason
}

/** "no drift: one of 4.1 or more would have shown" and the like. */
export function stateText({ state, shift, reasons }: Pick<PlantSeason, 'state' | 'shift' | 'reasons'>): string {
  const seen = shift?.noticeable
  if (state === 'none') return seen == null ? t('colours.state.none') : t('colours.state.none.seen', { n: tenth(seen) })
  if (state !== 'cannot_tell') return t(`colours.state.${state}`)
  const why = listed(reasons.map(reasonText))
  return why === '' ? t('colours.state.cannot_tell') : t('colours.state.cannot_tell.why', { why })
}

/** What a drift must have been to be seen, where nothing can be told for want of readings. */
export function missedText({ state, shift }: Pick<PlantSeason, 'state' | 'shift'>): string {
  if (state !== 'cannot_tell' || !shift) return ''
  return shift.noticeable === null ? t('colours.missed.any') : t('colours.missed', { n: tenth(shift.noticeable) })
}

/** The class of a plant that was measured: one without is not unseen. */
export function measuredClassText(farm: Farm, told: PlantClass | undefined): string {
  return told ? classText(farm, told) : t('colours.shares.classless')
}

/** "rosehip, measured", "between rosehip and blush (6 and 4 in 10)", "in no class". */
export function classText(farm: Farm, told: PlantClass | undefined): string {
  if (!told) return t('colour.unknown')
  const name = className(farm, told.colour)
  if (told.by === 'eye') return t('colours.class.eye', { name })
  if (told.sure) return told.colour === undefined ? t('colours.class.none') : t('colours.class.measured', { name })
  const [first, second] = told.likely
  if (!first || !second) return name
  return t('colours.class.between', {
    one: className(farm, first.colour), other: className(farm, second.colour), n: inHundred(first.share), m: inHundred(second.share),
  })
}

export function className(farm: Farm, colour: Colour['id'] | undefined): string {
  if (colour === undefined) return t('colours.class.none.short')
  return farm.colours.get(colour)?.name ?? t('colour.not_here')
}

/** "58 light, 42 strong, hue 24°" */
export function labText(lab: Lab): string {
  return t('colours.lab', { L: count(Math.round(lab.L)), a: count(Math.round(lab.a)), b: count(Math.round(lab.b)), C: count(Math.round(chroma(lab))) })
}

export function tenth(value: number): number {
  return Math.round(value * 10) / 10
}
