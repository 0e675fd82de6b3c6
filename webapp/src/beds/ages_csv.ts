// Every number of Ages as a file for a spreadsheet: a row is one number with its interval.

import { gradesHighToLow } from '../crop/nouns'
import { pers, scaled, shareOf } from './ages_per'
import type { Age, Interval, PlantWorth, Report, Spread, SurvivalAge } from './ages_report'
import { lengthsOf } from './ages_sentence'

/** In the order of the file. What a row does not speak of is empty. */
const columns = [
  'crop', 'what', 'season_in_the_ground', 'flush', 'grade', 'season', 'bed', 'plant', 'person', 'per_plant',
  'estimate', 'low', 'high', 'unit', 'plants', 'stems',
] as const

type Row = Partial<Record<(typeof columns)[number], string | number>>

const perNames = { alive: 'alive at start', set_out: 'set out', cut_from: 'cut from' } as const

/** What the file holds of one crop; graders are those whom the reader may see, by name. */
export function agesRows(crop: string, report: Report, graders: readonly (Interval & { name: string; stems: number })[]): Row[] {
  const rows = [
    ...report.ages.flatMap((age) => [...stemsRows(age, report), ...shareRows(age), ...dotRows(age)]),
    ...(report.survival?.ages ?? []).flatMap(survivalRows),
    ...(report.plants ?? []).flatMap(plantRows),
    ...(report.spread ? spreadRows(report.spread) : []),
    ...graders.map((one): Row => ({ what: 'how a person grades', person: one.name, ...ends(one), unit: 'logit', stems: one.stems })),
  ]
  return rows.map((row) => ({ crop, ...row }))
}

/** RFC 4180, with the mark by which spreadsheets know UTF-8. */
export function csvOf(rows: readonly Row[]): string {
  const lines = [columns.join(), ...rows.map((row) => columns.map((name) => field(row[name] ?? '')).join())]
  return `\uFEFF${lines.join('\r\n')}\r\n`
}

/** A text that a spreadsheet would take for a formula is marked as a text (OWASP, CSV injection). */
function field(value: string | number): string {
  if (typeof value === 'number') return String(Math.round(value * 10_000) / 10_000)
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value
  return `"${safe.replaceAll('"', '""')}"`
}

function ends({ mean, lo, hi }: Interval): Row {
  return { estimate: mean, low: lo, high: hi }
}

function stemsRows(age: Age, { survival }: Report): Row[] {
  const of: Row = { season_in_the_ground: age.age, unit: 'stems' }
  const means = pers.flatMap((per): Row[] => {
    const { factor, plants } = shareOf(age, survival, per)
    if (factor === undefined) return []
    return [{ ...of, what: 'mean', per_plant: perNames[per], ...ends(scaled(age.stems, factor)), plants, stems: age.stems_total }]
  })
  const single = (what: string, interval: Interval | undefined): Row[] => (interval ? [{ ...of, what, ...ends(interval) }] : [])
  return [
    ...means,
    { ...of, what: 'one more plant', low: age.stems.new_lo, high: age.stems.new_hi },
    ...(age.plain === undefined ? [] : [{ ...of, what: 'counted plants alone', estimate: age.plain, plants: age.plant_seasons }]),
    ...single('common practice', age.practice),
    ...single('another season and place', age.ahead),
    ...(age.seasons ?? []).map((one): Row => ({ ...of, what: 'mean of a season', season: one.season, per_plant: perNames.alive, ...ends(one), plants: one.alive })),
    ...(age.beds ?? []).map((one): Row => ({ ...of, what: 'mean of a bed', season: one.season, bed: one.name, per_plant: perNames.alive, ...ends(one), plants: one.alive })),
  ]
}

function shareRows(age: Age): Row[] {
  const of: Row = { season_in_the_ground: age.age }
  return [
    ...age.grades.flatMap((cell) => gradesHighToLow.map((grade): Row => ({
      ...of, what: 'grade', flush: cell.flush, grade, estimate: cell.p[grade], low: cell.lo[grade], high: cell.hi[grade], unit: 'share of stems',
      plants: cell.plants, stems: cell.stems,
    }))),
    ...lengthsOf(age).map(({ flush, length }): Row => ({ ...of, what: 'mean length', flush, ...ends(length), unit: 'cm' })),
  ]
}

function dotRows(age: Age): Row[] {
  return age.plants.map((dot) => ({
    what: dot.open ? 'plant still being counted' : 'counted plant', season_in_the_ground: age.age, season: dot.season,
    plant: dot.code, estimate: dot.stems, unit: 'stems',
  }))
}

function survivalRows(one: SurvivalAge): Row[] {
  const of: Row = { season_in_the_ground: one.age, unit: 'share of plants' }
  return [
    { ...of, what: 'lives to the next season', estimate: one.p, low: one.lo, high: one.hi, plants: one.at_start },
    { ...of, what: 'lives, in one more planting', low: one.new_lo, high: one.new_hi },
  ]
}

function plantRows({ code, times, best_tenth: chance, extra }: PlantWorth): Row[] {
  return [
    { what: 'times the middle plant', plant: code, ...ends(times), unit: 'times' },
    { what: 'in the best tenth', plant: code, estimate: chance, unit: 'chance' },
    ...(extra ? [{ what: 'extra in a second spring', plant: code, ...ends(extra), unit: 'share of stems' }] : []),
  ]
}

function spreadRows(spread: Spread): Row[] {
  const one = (what: string, interval: Interval): Row => ({ what, ...ends(interval), unit: 'times' })
  return [
    one('a plant one step better', spread.plants), one('a season one step better', spread.seasons),
    one('a planting one step better', spread.plantings), one('a bed one step better', spread.beds),
    one('uncounted against counted', spread.uncounted),
  ]
}
