// Numbers as they are typed in the forms of selling: percentages, amounts and lengths.

import type { LengthUnit, Millimetres } from '../crop/nouns'
import { type Cents } from '../crop/sale_nouns'
import { inUnit } from '../ui/lengths'
import { parseAmount, typedAmount } from '../ui/money'
import { wholeFrom } from '../ui/whole_number'

/** A percentage with up to two decimals, in hundredths of a percent; '' is none. */
export function percentFrom(text: string): number | undefined {
  if (text.trim() === '') return 0
  const hundredths = parseAmount(text)
  return hundredths === undefined || hundredths > 10_000 ? undefined : hundredths
}

/** A percentage for a field to be typed over: "12.5", "8". */
export function percentTyped(hundredths: number): string {
  return hundredths === 0 ? '' : typedAmount(hundredths as Cents).replace(/[.,]?0{1,2}$/, '')
}

/** An amount of which '' is none told. 'zero' is told apart, since nobody means to sell for nothing. */
export function amountFrom(text: string): Cents | 'zero' | undefined {
  if (text.trim() === '') return 0 as Cents
  const cents = parseAmount(text)
  return cents === 0 ? 'zero' : cents
}

export function amountTyped(cents: Cents): string {
  return cents === 0 ? '' : typedAmount(cents)
}

const longest = 2_000

/** A least length in the farm's unit; '' is any. What was not touched stays to the millimetre. */
export function lengthFrom(text: string, unit: LengthUnit, before: Millimetres): Millimetres | undefined {
  if (text.trim() === lengthTyped(before, unit)) return before
  if (text.trim() === '') return 0 as Millimetres
  const n = wholeFrom(text, 0, longest)
  const length = n === undefined ? undefined : Math.round(unit === 'in' ? n * 25.4 : n * 10)
  return length === undefined || length > longest ? undefined : (length as Millimetres)
}

export function lengthTyped(length: Millimetres, unit: LengthUnit): string {
  return length === 0 ? '' : String(inUnit(length, unit))
}
