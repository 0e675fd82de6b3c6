// Joint draws of what is to come, laid out for quick sums.

import { daysBetween } from '../crop/day'
import type { ColourID, Day, Grade } from '../crop/nouns'
import type { PackedDraws } from './forecast'

/** The grades in the order of the draws, worst first. */
export const gradesLowToHigh: readonly Grade[] = ['out', 'second', 'first', 'extra']

/** The same draw number is the same future everywhere: in all weeks, colours, grades and length classes. */
export interface Draws {
  readonly n: number
  /** The first day that they tell of. */
  readonly from: Day
  readonly weeks: readonly Day[]
  readonly colours: readonly (ColourID | '')[]
  readonly lengths: readonly number[]
  /** Stems by draw, week, colour, grade (`gradesLowToHigh`) and length class, the last running quickest. */
  readonly stems: Uint16Array
  /** By draw, week and weekday (Monday first): what part of the week's stems is cut by its end, in 255ths. */
  readonly days: Uint8Array
}

/** Reads draws as they travelled. Throws where they are not as long as they say. */
export function unpackDraws(packed: PackedDraws): Draws {
  const { n, from, weeks, colours, lengths } = packed
  const stems = new Uint16Array(n * weeks.length * colours.length * gradesLowToHigh.length * lengths.length)
  unpackRuns(bytesOf(packed.stems), stems)
  const days = bytesOf(packed.days)
  if (days.length !== n * weeks.length * 7) throw new Error(`reading the forecast: ${days.length} days for ${n} draws of ${weeks.length} weeks`)
  return { n, from, weeks, colours, lengths, stems, days }
}

/** Unsigned LEB128 numbers; a 0 is followed by how many more zeros follow it. Most numbers are one byte. */
function unpackRuns(bytes: Uint8Array, into: Uint16Array): void {
  let at = 0
  let filled = 0
  const next = (): number => {
    let value = 0
    for (let shift = 0; ; shift += 7) {
      const byte = bytes[at++]
      if (byte === undefined) throw new Error('reading the forecast: its draws are cut off')
      value |= (byte & 0x7f) << shift
      if (byte < 0x80) return value
    }
  }
  while (at < bytes.length) {
    const byte = bytes[at]!
    if (byte === 0) {
      at++
      filled += 1 + next()
    } else if (byte < 0x80) {
      at++
      into[filled++] = byte
    } else into[filled++] = next()
  }
  if (filled !== into.length) throw new Error(`reading the forecast: ${filled} numbers for ${into.length}`)
}

function bytesOf(base64: string): Uint8Array {
  const text = atob(base64)
  const bytes = new Uint8Array(text.length)
  for (let i = 0; i < bytes.length; i++) bytes[i] = text.charCodeAt(i)
  return bytes
}

/** Which week of the draws a day lies in and which weekday it is, Monday 0; undefined for a day before them or behind them. */
export function weekDayOf({ weeks }: Draws, day: Day): { readonly week: number; readonly weekday: number } | undefined {
  const first = weeks[0]
  if (first === undefined) return undefined
  const after = daysBetween(first, day)
  const week = Math.floor(after / 7)
  return week < 0 || week >= weeks.length ? undefined : { week, weekday: after - 7 * week }
}

/** Its multiples' fractions lie as evenly as can be (the golden ratio less 1; Knuth, The Art of Computer Programming 3, 6.4). */
const golden = (Math.sqrt(5) - 1) / 2

/**
 * Of n stems that stand at a place of the draws, how many are cut by the end of a day by which that part of their week is, in
 * 255ths. A place holds a stem or two: rounded to the nearest they would all fall on the middle day of their week. So each place
 * has its own bound for rounding up, the same on all days, or a day could bring less than none.
 */
export function cutBy(n: number, part: number, place: number): number {
  const shift = place * golden
  return Math.floor((n * part) / 255 + (shift - Math.floor(shift)))
}
