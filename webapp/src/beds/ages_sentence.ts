// The sentence that leads Ages: what a grower would say of a plant's season in the ground.

import type { Flush, LengthUnit } from '../crop/nouns'
import { count, hasMessage, t, tCode } from '../messages/messages'
import { centimetresIn } from '../ui/lengths'
import type { Age, GradeCell, Interval, Note, Report } from './ages_report'

/** Whole stems. */
export function whole(stems: number): number {
  return Math.round(stems)
}

/** A share as a whole number in a hundred. */
export function inHundred(share: number): number {
  return Math.round(share * 100)
}

/** How many times, to a tenth. */
export function times(factor: number): number {
  return Math.round(factor * 10) / 10
}

/** The age that the sentence is about: the second season where there is one. */
export function leadingAge(report: Report): Age | undefined {
  return report.ages.find((age) => age.age === 2) ?? report.ages[0]
}

export function agesSentence(report: Report, unit: LengthUnit): string {
  const age = leadingAge(report)
  if (!age) return t('ages.none')
  const parts = [stemsSentence(age), gradeClause(age), lengthClause(age, unit)].filter((part) => part !== '')
  return t('ages.say.end', { parts: parts.join(', ') })
}

function stemsSentence({ age, stems }: Age): string {
  const [lo, hi, n] = [whole(stems.lo), whole(stems.hi), whole(stems.mean)]
  const season = seasonWord(age)
  return lo === hi ? t('ages.say.narrow', { season, n }) : t('ages.say', { season, n, lo, hi })
}

/** "43 in 100 of them extra"; '' where no stem of this age was graded. */
function gradeClause(age: Age): string {
  const cell = firstFlush(age)
  return cell ? t('ages.say.extra', { extra: inHundred(cell.p.extra) }) : ''
}

/** "about 52 cm long"; '' where no stem of this age was measured. */
function lengthClause(age: Age, unit: LengthUnit): string {
  const first = lengthsOf(age)[0]
  return first ? t('ages.say.length', { length: lengthSaid(first.length.mean, unit) }) : ''
}

/** A length to say: whole centimetres or inches, with the unit. */
export function lengthSaid(cm: number, unit: LengthUnit): string {
  return t(unit === 'in' ? 'length.in' : 'length.cm', { lo: Math.round(centimetresIn(cm, unit)) })
}

function firstFlush(age: Age): GradeCell | undefined {
  return age.grades.find((cell) => cell.flush === 'spring') ?? age.grades[0]
}

export interface FlushLength {
  readonly flush: Flush | ''
  readonly length: Interval
}

/** The lengths of an age, the spring's first. */
export function lengthsOf({ length_cm: lengths }: Age): FlushLength[] {
  return (['spring', 'fall', ''] as const).flatMap((flush) => {
    const length = lengths?.[flush]
    return length ? [{ flush, length }] : []
  })
}

/** "season 2, spring". */
export function flushName(age: number, flush: Flush | ''): string {
  return flush === '' ? t('ages.row', { age }) : t('ages.row.flush', { age, flush: t(`flush.${flush}`) })
}

/** "second-season", or "season-12" past what people have a word for. */
export function seasonWord(age: number): string {
  const key = `ages.season.${age}`
  return hasMessage(key) ? tCode(key, {}) : t('ages.season.other', { age: String(age) })
}

/** A note in the language in use; in English where it is of a later version. */
export function noteText({ code, args, text }: Note): string {
  const key = `ages.note.${code}`
  if (!hasMessage(key)) return text
  const told: Record<string, string> = { ...args }
  const grade = `grade.${args['grade'] ?? ''}`
  if (hasMessage(grade)) told['grade'] = tCode(grade, {})
  if (args['split'] !== undefined) told['split'] = splitText(args['split'])
  return tCode(key, told)
}

/** Groups come as "age 1, 2 in 2024; age 3 in 2025". */
function splitText(split: string): string {
  return split.split('; ').map((group) => {
    const [, ages, seasons] = /^age (.+) in (.+)$/.exec(group) ?? []
    if (ages === undefined || seasons === undefined) return group
    return t('ages.note.split', { n: ages.split(',').length, ages, seasons })
  }).join('; ')
}

/** "21 (17 to 26)" in two parts, for tables. */
export function rangeText(lo: number, hi: number): string {
  return t('ages.range', { lo: count(lo), hi: count(hi) })
}
