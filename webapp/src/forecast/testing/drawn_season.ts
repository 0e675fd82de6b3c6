// Draws of a made-up season, for tests: as the shed packs them, of a flush of some weeks whose size differs from draw to draw.

import { addDays } from '../../crop/day'
import type { ColourID, Day } from '../../crop/nouns'
import { gradesLowToHigh } from '../draws'
import type { PackedDraws } from '../forecast'

export interface SeasonTold {
  readonly n: number
  /** A Monday. */
  readonly first: Day
  readonly weeks: number
  readonly colours: readonly (ColourID | '')[]
  readonly lengths: readonly number[]
  /** Stems of all kinds in the heaviest week; that is the middle one where it is not told. */
  readonly heaviest: number
  readonly peak?: number
  readonly chance: Chance
}

/** What is asked of chance: numbers from 0 up to, not including, 1. */
interface Chance {
  next(): number
}

export function drawnSeason(told: SeasonTold): PackedDraws {
  const { n, first, weeks, colours, lengths, heaviest, peak: middle = weeks / 2, chance: random } = told
  const kinds = colours.length * gradesLowToHigh.length * lengths.length
  const stems: number[] = []
  const days: number[] = []
  for (let draw = 0; draw < n; draw++) {
    const size = Math.exp((random.next() + random.next() + random.next() - 1.5) * 0.8)
    const peak = middle + (random.next() - 0.5) * 2
    for (let week = 0; week < weeks; week++) {
      const mean = (size * heaviest * Math.exp(-(((week - peak) / (weeks / 4)) ** 2))) / kinds
      for (let kind = 0; kind < kinds; kind++) stems.push(Math.floor(mean * 2 * random.next() + random.next()))
      days.push(36, 73, 109, 146, 182, 219, 255)
    }
  }
  const mondays = Array.from({ length: weeks }, (_, i) => addDays(first, 7 * i))
  return { n, from: first, weeks: mondays, colours, lengths, stems: runs(stems, kinds * weeks), days: base64(days) }
}

/** As the shed writes numbers: unsigned LEB128, a 0 with how many more follow it in its draw. */
function runs(numbers: readonly number[], ofDraw: number): string {
  const bytes: number[] = []
  const write = (n: number) => {
    let rest = n
    for (; rest >= 0x80; rest = rest >>> 7) bytes.push((rest & 0x7f) | 0x80)
    bytes.push(rest)
  }
  for (let at = 0; at < numbers.length;) {
    write(numbers[at]!)
    if (numbers[at++] !== 0) continue
    const end = Math.ceil(at / ofDraw) * ofDraw
    let more = 0
    while (at < end && numbers[at] === 0) [more, at] = [more + 1, at + 1]
    write(more)
  }
  return base64(bytes)
}

function base64(bytes: readonly number[]): string {
  let text = ''
  for (const byte of bytes) text += String.fromCharCode(byte)
  return btoa(text)
}
