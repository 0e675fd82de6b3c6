import { describe, expect, it } from 'vitest'
import type { Member } from '../crop/member'
import type { PersonID } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { answer as shown, isAnswer, readAges } from './ages'
import { type Grader, isReport } from './ages_report'
import { gradersFor } from './AgesGraders'

const interval = { mean: 2, lo: 1, hi: 3 }
const byGrade = { extra: 0.4, first: 0.3, second: 0.2, out: 0.1 }
const age = {
  age: 1, plant_seasons: 3, zero: 0, stems_total: 20, alive: 9, set_out: 10, cut_from: 3, stems: { ...interval, size: 2, new_lo: 0, new_hi: 8 },
  grades: [{ flush: 'spring', stems: 20, plants: 3, p: byGrade, lo: byGrade, hi: byGrade }], plants: [{ plant: 'p', code: 'A1', season: 2026, stems: 3, open: false }],
}
const whole = {
  level: 0.9, prior: 'practice', notes: [{ code: 'one_season', args: { season: '2026' }, text: 'x' }],
  ages: [{ ...age, seasons: [{ season: 2026, alive: 9, ...interval }], beds: [{ bed: 'b', name: 'Gate', season: 2026, alive: 9, ...interval }], ahead: interval, plain: 2, practice: interval, length_cm: { spring: interval } }],
  plants: [{ plant: 'p', code: 'A1', seasons: 1, times: interval, best_tenth: 0.2, extra: interval }],
  spread: { plants: interval, seasons: interval, plantings: interval, beds: interval, uncounted: interval, totals: 0, graders: [{ person: 'ana', stems: 4, ...interval }] },
  survival: { level: 0.9, ages: [{ age: 1, at_start: 9, lost: 1, planting_seasons: 1, p: 0.9, lo: 0.8, hi: 1, new_lo: 0.5, new_hi: 1 }], denominators: [{ age: 1, season: 2026, set_out: 10, at_start: 9, running: true }], notes: [] },
  rests: [{ model: 'stems', basis: 'weighted', k_hat: 0.3, draws: 2000, worth: 900 }],
}
/** What an app of the first form of the model kept. */
const former = {
  level: 0.9, notes: [],
  ages: [{ age: 1, plant_seasons: 3, zero: 0, stems: { ...interval, size: 2, new_lo: 0, new_hi: 8 }, stems_total: 20, grades: [], plants: [] }],
}

describe('a report', () => {
  it.each<[string, unknown, boolean]>([
    ['with everything in it is one', whole, true],
    ['of an age that nobody counted is one', { ...whole, ages: [age], plants: undefined, spread: undefined, survival: undefined, rests: undefined }, true],
    ['of an earlier version is none', former, false],
    ['with an interval without ends is none', { ...whole, ages: [{ ...age, ahead: { mean: 2 } }] }, false],
    ['with a null for a number is none', { ...whole, ages: [{ ...age, alive: null }] }, false],
    ['with a list for a record is none', { ...whole, spread: [] }, false],
    ['that is no record is none', 'report', false],
  ])('%s', (_, value, is) => {
    expect(isReport(value)).toBe(is)
  })
})

describe('an answer', () => {
  const answer = { arrival: 7, asof: '2026-06-01', species: [{ species: 's', report: whole }] }
  it.each<[string, unknown, boolean]>([
    ['of the shed is one', answer, true],
    ['kept by an earlier version is none', { ...answer, species: [{ species: 's', report: former }] }, false],
    ['without a day is none', { arrival: 7, species: [] }, false],
    ['that is nothing is none', undefined, false],
  ])('%s', (_, value, is) => {
    expect(isAnswer(value)).toBe(is)
  })
})

describe('what a phone kept', () => {
  const keeping = (species: unknown) => ({ kept: () => ({ arrival: 7, asof: '2026-06-01', species }) }) as unknown as Notebook
  it('is not shown where it is of an earlier version, and is where it is not', () => {
    readAges(keeping([{ species: 's', report: former }]))
    expect(shown.value).toBeUndefined()
    readAges(keeping([{ species: 's', report: whole }]))
    expect(shown.value?.species[0]?.species).toBe('s')
  })
})

describe('how people grade', () => {
  const graders = ['ana', 'ben'].map((person) => ({ person: person as PersonID, stems: 3, ...interval })) satisfies Grader[]
  const member = (role: string, person: string) => ({ role, person }) as Member
  it.each<[string, Member | undefined, string[]]>([
    ['an owner sees of everybody', member('owner', 'olga'), ['ana', 'ben']],
    ['crew see of themselves, also in an answer from when they were an owner', member('crew', 'ben'), ['ben']],
    ['who never graded sees of nobody', member('viewer', 'vera'), []],
    ['a device that has not joined sees of nobody', undefined, []],
  ])('%s', (_, who, want) => {
    expect(gradersFor(who, graders).map((one) => one.person)).toEqual(want)
  })
})
