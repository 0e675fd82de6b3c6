// Draws of a made-up season, for tests: as the shed packs them, of a flush of some weeks whose size differs from draw to draw.

import { addDays } from '../../crop/day'
import type { ColourID, Day } from '../../crop/nouns'
import { gradesLowToHigh } from '../draws'
import type { PackedDraws } from '../forecast'
import { DrawsPacker } from './draws_packer'

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
  const packer = new DrawsPacker(weeks, colours.length, lengths.length)
  for (let draw = 0; draw < n; draw++) {
    const size = Math.exp((random.next() + random.next() + random.next() - 1.5) * 0.8)
    const peak = middle + (random.next() - 0.5) * 2
    packer.draw((week) => {
      const mean = (size * heaviest * Math.exp(-(((week - peak) / (weeks / 4)) ** 2))) / kinds
      return Array.from({ length: kinds }, () => Math.floor(mean * 2 * random.next() + random.next()))
    })
  }
  const mondays = Array.from({ length: weeks }, (_, i) => addDays(first, 7 * i))
  return { n, from: first, weeks: mondays, colours, lengths, coded: packer.coded() }
}
