// Joint draws of what is to come, laid out for quick sums.

import { daysBetween } from '../crop/day'
import type { ColourID, Day, Grade } from '../crop/nouns'
import { BitReader } from './coded_bits'
import type { PackedDraws } from './forecast'
import { newWeekSplit, WeekCode, type WeekSplit, wholeWeek } from './week_code'

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
export function unpackDraws({ n, from, weeks, colours, lengths, coded }: PackedDraws): Draws {
  const ofWeek = colours.length * gradesLowToHigh.length * lengths.length
  const stems = new Uint16Array(n * weeks.length * ofWeek)
  const days = new Uint8Array(n * weeks.length * 7)
  const bits = new BitReader(bytesOf(coded))
  const code = new WeekCode(weeks.length, colours.length, lengths.length, bits)
  const split = newWeekSplit(colours.length, lengths.length)
  let at = 0
  const clear = () => { split.lengths.fill(0); split.grades.fill(0) }
  const read = () => {
    readStems(split, lengths.length, stems, at * ofWeek)
    readDays(split, days, at * 7)
    at++
  }
  for (let draw = 0; draw < n; draw++) code.draw(split, clear, read)
  if (bits.left < 0 || bits.left >= 8) throw new Error(`reading the forecast: ${n} draws of ${weeks.length} weeks leave ${bits.left} bits`)
  return { n, from, weeks, colours, lengths, stems, days }
}

const most = 0xffff

function readStems({ total, grades, lengths }: WeekSplit, classes: number, stems: Uint16Array, at: number): void {
  if (total === 0) return
  for (let grade = 0; grade < grades.length; grade += gradesLowToHigh.length) lengths[grade * classes] = grades[grade]! // the unsaleable ones
  if (total > most && lengths.some((one) => one > most)) throw new Error(`reading the forecast: more than ${most} stems of a kind in a week`)
  for (let i = 0; i < lengths.length; i++) stems[at + i] = lengths[i]!
}

function readDays({ total, days }: WeekSplit, parts: Uint8Array, at: number): void {
  const all = Math.min(total, wholeWeek)
  let sum = 0
  for (let day = 0; day < 7; day++) {
    sum += days[day]!
    parts[at + day] = day === 6 ? wholeWeek : all === 0 ? 0 : Math.floor((2 * wholeWeek * sum + all) / (2 * all))
  }
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
