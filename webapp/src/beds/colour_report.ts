// What the shed's model says of a crop's measured colours, as it travels (internal/drift/report.go), and whether
// something that came or was kept has that form.

import type { Lab } from '../colour/lab'
import type { Cov, MeasuredColour } from '../crop/measured_colour'
import type { Day, PlantID, Season } from '../crop/nouns'
import { having, listOf, maybe, type Note, note, numbers, numeric, orNull, text, truth } from '../ui/json_form'

export interface ColourReport {
  /** Coverage of every interval, such as 0.9. */
  readonly level: number
  /** From which difference on a drift is called visible, in CIEDE2000. */
  readonly threshold: number
  readonly readings: number
  /** Of them, those that can be evidence of drift. */
  readonly firm: number
  readonly plants: number
  readonly sessions: readonly Session[]
  readonly stand: readonly StandShift[]
  /** Reference plants beside the other reference plants. */
  readonly references: readonly PlantSeason[]
  readonly plant_seasons: readonly PlantSeason[]
  readonly colours: readonly PlantColour[]
  readonly power: readonly Power[]
  readonly notes: readonly Note[]
}

/** A colour or a difference of two, as it travels. */
export interface SentLab {
  readonly l: number
  readonly a: number
  readonly b: number
}

export interface SentCov {
  readonly ll: number
  readonly la: number
  readonly lb: number
  readonly aa: number
  readonly ab: number
  readonly bb: number
}

export interface Interval {
  readonly mean: number
  readonly lo: number
  readonly hi: number
}

/** What was photographed in one go by one camera. */
export interface Session {
  readonly season: Season
  readonly day: Day
  readonly camera: string
  readonly card: boolean
  readonly readings: number
  readonly plants: number
  readonly references: number
  /** By enough reference plants to tell what the stand itself did. */
  readonly tied: boolean
}

/** What the whole stand did since its first season, beside the reference plants. */
export interface StandShift {
  readonly season: Season
  readonly since: Season
  readonly told: boolean
  readonly shift: SentLab
  readonly total: Interval
  readonly p: number
  /** By a joint test, and visibly. */
  readonly moved: boolean
}

export type State = 'none' | 'watch' | 'drift' | 'cannot_tell'

export interface PlantSeason {
  readonly plant: PlantID
  readonly season: Season
  /** 0 where there is none. */
  readonly baseline: Season
  readonly readings: number
  readonly days: number
  readonly state: State
  readonly reasons: readonly string[]
  /** null where nothing can be compared. */
  readonly shift: Shift | null
}

/** A plant's own difference from its baseline, beside the rest of the stand. */
export interface Shift {
  readonly from: SentLab
  readonly by: SentLab
  readonly total: Interval
  readonly lightness: Part
  readonly chroma: Part
  readonly hue: Part
  readonly p: number
  /** The drift that these readings would have shown with a chance of 80 %; null where that is a very large one. */
  readonly noticeable: number | null
}

/** A part of a difference in CIEDE2000 units, and its standard error. */
export interface Part {
  readonly value: number
  readonly se: number
}

/** A plant's colour in a season, as the farm's cameras and cards read it on average. */
export interface PlantColour {
  readonly plant: PlantID
  readonly season: Season
  readonly lab: SentLab
  readonly cov: SentCov
  readonly readings: number
  readonly firm: number
}

/** How likely a drift is seen, were every plant photographed so in every season. */
export interface Power {
  readonly photos: number
  readonly days: number
  readonly size: number
  readonly noticed: number
  readonly confirmed: number
}

export function labOf({ l, a, b }: SentLab): Lab {
  return { L: l, a, b }
}

export function colourOf({ lab, cov: { ll, la, lb, aa, ab, bb } }: Pick<PlantColour, 'lab' | 'cov'>): MeasuredColour {
  const cov: Cov = { LL: ll, La: la, Lb: lb, aa, ab, bb }
  return { lab: labOf(lab), cov }
}

const lab = having(numbers('l', 'a', 'b'))
const cov = having(numbers('ll', 'la', 'lb', 'aa', 'ab', 'bb'))
const interval = having(numbers('mean', 'lo', 'hi'))
const part = having(numbers('value', 'se'))

const shift = having({
  ...numbers('p'), from: lab, by: lab, total: interval, lightness: part, chroma: part, hue: part, noticeable: orNull(numeric),
})

const plantSeason = having({
  ...numbers('season', 'baseline', 'readings', 'days'), plant: text, state: text, reasons: listOf(text), shift: orNull(shift),
})

const report = having({
  ...numbers('level', 'threshold', 'readings', 'firm', 'plants'),
  sessions: listOf(having({ ...numbers('season', 'readings', 'plants', 'references'), day: text, camera: text, card: truth, tied: truth })),
  stand: listOf(having({ ...numbers('season', 'since', 'p'), told: truth, moved: truth, shift: lab, total: interval, reason: maybe(text) })),
  references: listOf(plantSeason), plant_seasons: listOf(plantSeason),
  colours: listOf(having({ ...numbers('season', 'readings', 'firm'), plant: text, lab, cov })),
  power: listOf(having(numbers('photos', 'days', 'size', 'noticed', 'confirmed'))),
  notes: listOf(note),
})

/** Whether something has the form of a report. What a phone kept of an earlier version has not. */
export function isColourReport(value: unknown): value is ColourReport {
  return report(value)
}
