// Temperatures as the farm shows them. What is kept is tenths of a degree Celsius.

import { coldest, type DegreeUnit, hottest } from '../crop/ahead_nouns'
import { decimal, t } from '../messages/messages'
import { parseTemperature } from './weather_sheet'

/**
 * In the degrees shown, to a tenth. A tenth of a degree Celsius is 0.18 °F: what lies within half of that about a whole degree
 * Fahrenheit is that degree, so that whole degrees are shown as they were typed.
 */
export function shownIn(unit: DegreeUnit, celsius: number): number {
  const degrees = unit === 'c' ? celsius : celsius * 1.8 + 32
  const whole = Math.round(degrees)
  const isWhole = unit === 'f' && Math.abs(degrees - whole) <= 0.0901
  return (isWhole ? whole : Math.round(degrees * 10) / 10) + 0
}

/** In degrees Celsius to the tenth that is kept, of the degrees shown. */
export function celsiusOf(unit: DegreeUnit, degrees: number): number {
  return Math.round((unit === 'c' ? degrees : (degrees - 32) / 1.8) * 10) / 10 + 0
}

/** With one decimal, and none where it is a whole number. */
export function degreesName(unit: DegreeUnit, celsius: number): string {
  return t(unit === 'c' ? 'weather.degrees.c' : 'weather.degrees.f', { n: plainDegrees(unit, celsius) })
}

export function plainDegrees(unit: DegreeUnit, celsius: number): string {
  const degrees = shownIn(unit, celsius)
  return decimal(degrees, Number.isInteger(degrees) ? 0 : 1).replace('-', '−')
}

/** Degree-days in the degrees shown: a degree Fahrenheit is five ninths of a degree Celsius. */
export function warmthShown(unit: DegreeUnit, degreeDays: number): number {
  return unit === 'c' ? degreeDays : degreeDays * 1.8
}

export type TypedProblem = 'missing' | 'number' | 'slip' | 'above'

/** The weather of a day as it was typed, or what is wrong with it. */
export function weatherTyped(unit: DegreeUnit, low: string, high: string): { readonly min: number; readonly max: number } | TypedProblem {
  if (low.trim() === '' || high.trim() === '') return 'missing'
  const [least, most] = [parseTemperature(low), parseTemperature(high)]
  if (least === undefined || most === undefined) return 'number'
  const [min, max] = [celsiusOf(unit, least), celsiusOf(unit, most)]
  if (isSlip(min) || isSlip(max)) return 'slip'
  return least > most ? 'above' : { min, max }
}

/** Whether the shed refuses it: no such temperature was ever measured. */
export function isSlip(celsius: number): boolean {
  return celsius < coldest || celsius > hottest
}
