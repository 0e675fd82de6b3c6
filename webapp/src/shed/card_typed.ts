// The colours of a batch as somebody types them from an instrument: texts to CIELAB, and what is wrong with them.

import type { Lab } from '../colour/lab'
import { asPrinted } from '../colourcard/as_printed'
import { greys } from '../colourcard/geometry'
import { distance, readNumber } from './cards'

export const parts = ['L', 'a', 'b'] as const
export type Part = (typeof parts)[number]

/** One colour as it is typed. */
export type TypedColour = Readonly<Record<Part, string>>

/** What is wrong with one colour: each has its words under cards.typed.problem. */
export type ColourProblem = 'missing' | 'no_number' | 'lightness' | 'beyond' | 'far'

/** What no printed colour exceeds, in a or b. */
const mostAB = 110

/**
 * How far a colour may lie from the one that was sent to the printer before it is taken for another patch's, for a
 * sign that is missing, or for a card that was printed without colours.
 */
const farFrom = 40

export interface Typed {
  /** In the order of the geometry; undefined where anything is wrong. */
  readonly labs: readonly Lab[] | undefined
  readonly problems: readonly (ColourProblem | undefined)[]
  /** Whether each grey is lighter than the one before: all are there, and are not in their order. */
  readonly greysOutOfOrder: boolean
}

export function emptyTyped(): readonly TypedColour[] {
  return asPrinted.patches.map(() => ({ L: '', a: '', b: '' }))
}

/** Colours as they are shown to be changed, in the digits that are kept. */
export function typedOf(labs: readonly Lab[], locale: string): readonly TypedColour[] {
  const text = (part: number) => new Intl.NumberFormat(locale, { maximumFractionDigits: 2, useGrouping: false }).format(part)
  return labs.map(({ L, a, b }) => ({ L: text(L), a: text(a), b: text(b) }))
}

export function readTyped(typed: readonly TypedColour[]): Typed {
  const read = asPrinted.patches.map((printed, i) => readColour(typed[i], printed))
  const problems = read.map((one) => (typeof one === 'string' ? one : undefined))
  const labs = read.filter((one) => typeof one !== 'string')
  const whole = labs.length === asPrinted.patches.length
  const greysOutOfOrder = whole && labs.slice(1, greys).some((grey, i) => grey.L <= labs[i]!.L)
  return { labs: whole && !greysOutOfOrder ? labs : undefined, problems, greysOutOfOrder }
}

function readColour(typed: TypedColour | undefined, printed: Lab): Lab | ColourProblem {
  const texts = parts.map((part) => typed?.[part] ?? '')
  if (texts.some((text) => text.trim() === '')) return 'missing'
  const [L, a, b] = texts.map(readNumber)
  if (L === undefined || a === undefined || b === undefined) return 'no_number'
  if (L < 0 || L > 100) return 'lightness'
  if (Math.max(Math.abs(a), Math.abs(b)) > mostAB) return 'beyond'
  return distance({ L, a, b }, printed) > farFrom ? 'far' : { L, a, b }
}
