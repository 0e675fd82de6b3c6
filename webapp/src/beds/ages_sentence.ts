// The sentence that leads Ages: what a grower would say of a plant's season in the ground.

import { count, hasMessage, t, tCode } from '../messages/messages'
import type { Age, GradeCell, Note, Report } from './ages'

/** Whole stems. */
export function whole(stems: number): number {
  return Math.round(stems)
}

/** A share as a whole number in a hundred. */
export function inHundred(share: number): number {
  return Math.round(share * 100)
}

/** The age that the sentence is about: the second season where there is one. */
export function leadingAge(report: Report): Age | undefined {
  return report.ages.find((age) => age.age === 2) ?? report.ages[0]
}

export function agesSentence(report: Report): string {
  const age = leadingAge(report)
  if (!age) return t('ages.none')
  const stems = stemsSentence(age)
  const grade = gradeClause(report, age)
  return grade === '' ? t('ages.say.end', { stems }) : t('ages.say.both', { stems, grade })
}

function stemsSentence({ age, stems }: Age): string {
  const [lo, hi, n] = [whole(stems.lo), whole(stems.hi), whole(stems.mean)]
  const season = seasonWord(age)
  return lo === hi ? t('ages.say.narrow', { season, n }) : t('ages.say', { season, n, lo: count(lo), hi: count(hi) })
}

/** "43 in 100 are extra, against 26 in its first"; '' where no stem of this age was graded. */
function gradeClause(report: Report, age: Age): string {
  const cell = firstFlush(age)
  if (!cell) return ''
  const extra = inHundred(cell.p.extra)
  const before = report.ages.findLast((other) => other.age < age.age)
  const past = before && before.grades.find((other) => other.flush === cell.flush)
  if (!before || !past) return t('ages.say.extra', { extra })
  return t('ages.say.against', { extra, past: inHundred(past.p.extra), season: ordinal(before.age) })
}

function firstFlush(age: Age): GradeCell | undefined {
  return age.grades.find((cell) => cell.flush === 'spring') ?? age.grades[0]
}

/** "second-season", or "season-12" past what people have a word for. */
export function seasonWord(age: number): string {
  const key = `ages.season.${age}`
  return hasMessage(key) ? tCode(key, {}) : t('ages.season.other', { age: String(age) })
}

function ordinal(age: number): string {
  const key = `ages.ordinal.${age}`
  return hasMessage(key) ? tCode(key, {}) : t('ages.ordinal.other', { age: String(age) })
}

/** A note in the language in use; in English where it is of a later version. */
export function noteText({ code, args, text }: Note): string {
  const key = `ages.note.${code}`
  if (!hasMessage(key)) return text
  const grade = args['grade']
  const gradeKey = `grade.${grade ?? ''}`
  const told = grade !== undefined && hasMessage(gradeKey) ? { ...args, grade: tCode(gradeKey, {}) } : args
  return tCode(key, told)
}
