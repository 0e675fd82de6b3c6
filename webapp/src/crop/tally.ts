// Stems summed by colour class, grade and length, for a day's cut and for what lies in the cooler.

import { compareText } from '../log/order'
import type { ColourID, Count, LengthClass, ToldGrade } from './nouns'

export interface ColourTally {
  readonly colour: ColourID | ''
  readonly stems: number
  readonly grades: ReadonlyMap<ToldGrade, number>
}

export interface LengthTally {
  readonly length: LengthClass
  readonly stems: number
}

export interface Tally {
  readonly stems: number
  /** The most first. */
  readonly colours: readonly ColourTally[]
  readonly grades: ReadonlyMap<ToldGrade, number>
  /** The shortest first; those not told last. */
  readonly lengths: readonly LengthTally[]
}

export function tallyOf(counts: readonly Count[]): Tally {
  const colours = new Map<ColourID | '', { stems: number; grades: Map<ToldGrade, number> }>()
  const lengths = new Map<string, { length: LengthClass; stems: number }>()
  const grades = new Map<ToldGrade, number>()
  for (const { colour, grade, length, stems } of counts) {
    if (stems === 0) continue
    const ofColour = colours.get(colour) ?? { stems: 0, grades: new Map<ToldGrade, number>() }
    ofColour.stems += stems
    add(ofColour.grades, grade, stems)
    colours.set(colour, ofColour)
    add(grades, grade, stems)
    const key = `${length.lo}|${length.hi}`
    lengths.set(key, { length, stems: (lengths.get(key)?.stems ?? 0) + stems })
  }
  return {
    stems: [...grades.values()].reduce((sum, n) => sum + n, 0), grades,
    colours: [...colours].map(([colour, of]) => ({ colour, ...of })).sort((a, b) => b.stems - a.stems || compareText(a.colour, b.colour)),
    lengths: [...lengths.values()].sort((a, b) => Number(a.length.hi === 0) - Number(b.length.hi === 0) || a.length.lo - b.length.lo || a.length.hi - b.length.hi),
  }
}

function add<K>(to: Map<K, number>, key: K, stems: number): void {
  to.set(key, (to.get(key) ?? 0) + stems)
}
