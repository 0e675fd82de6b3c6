import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, describe, expect, it } from 'vitest'
import type { LengthUnit } from '../crop/nouns'
import { hasMessage, type Language, languageChoice, loadWords } from '../messages/messages'
import type { Age, GradeCell, Report } from './ages_report'
import { agesSentence, noteText } from './ages_sentence'
import { restLines } from './AgesRests'
import { ticksTo } from '../ui/ticks'

const cell = (flush: 'spring' | 'fall', extra: number) =>
  ({ flush, stems: 100, plants: 10, p: { out: 0, second: 0, first: 1 - extra, extra } }) as unknown as GradeCell

function age(n: number, mean: number, lo: number, hi: number, part: Partial<Age> = {}): Age {
  return {
    age: n, plant_seasons: 40, zero: 2, stems: { mean, lo, hi, size: 2, new_lo: 3, new_hi: 60 }, stems_total: 900, alive: 80, set_out: 100, cut_from: 38,
    grades: [], plants: [], ...part,
  }
}

const reportOf = (...ages: Age[]): Report => ({ level: 0.9, prior: 'practice', ages, notes: [] })

const first = age(1, 7.8, 6.9, 8.9, { grades: [cell('spring', 0.26)] })
const second = age(2, 21.6, 19.8, 23.5, { grades: [cell('fall', 0.3), cell('spring', 0.43)], length_cm: { fall: { mean: 40, lo: 39, hi: 41 }, spring: { mean: 52.3, lo: 51, hi: 53 } } })

/** The codes that the model's own source names. */
function noteCodes(): string[] {
  const files = ['notes.go', 'survival_notes.go'].map((name) => readFileSync(join(import.meta.dirname, '../../../internal/yield', name), 'utf8'))
  return [...files.join('\n').matchAll(/^\tNote\w+ += "(\w+)"/gm)].map((m) => m[1] ?? '')
}

describe('what an age rests on', () => {
  const told = (plain: number | undefined, n = 40) => {
    const { plain: _, ...bare } = age(2, 20, 18, 22, { plant_seasons: n, practice: { mean: 18, lo: 2, hi: 140 }, ahead: { mean: 21, lo: 11, hi: 38 } })
    return restLines(plain === undefined ? bare : { ...bare, plain })
  }

  it.each<[string, number | undefined, number, RegExp]>([
    ['counts that practice leaves alone', 20.2, 40, /^Both together: \*\*20\*\*\. The counts speak/],
    ['counts that are pulled down', 24, 3, /pull it 4 below/],
    ['counts that are pulled up', 15, 3, /pull it 5 above/],
    ['nothing but practice', undefined, 0, /\*\*20\*\* is common practice/],
  ])('says %s', async (_, plain, n, line) => {
    await speak('en')
    expect(told(plain, n).some((text) => line.test(text))).toBe(true)
  })
})

async function speak(language: Language): Promise<void> {
  languageChoice.value = language
  await loadWords(language)
}

afterEach(() => { languageChoice.value = 'auto' })

describe('the sentence that leads Ages', () => {
  const cases: [string, Report, LengthUnit, string, string][] = [
    ['of the second season, with grades and lengths of its spring', reportOf(first, second), 'cm',
      'A **second-season** plant gives **22 stems** (20 to 24), **43 in 100** of them extra, about **52 cm** long.',
      'Una planta en su **segunda temporada** da **22 tallos** (20 a 24), **43 de cada 100** extra, de unos **52 cm** de largo.'],
    ['in inches', reportOf(second), 'in',
      'A **second-season** plant gives **22 stems** (20 to 24), **43 in 100** of them extra, about **21 in** long.',
      'Una planta en su **segunda temporada** da **22 tallos** (20 a 24), **43 de cada 100** extra, de unos **21 pulg** de largo.'],
    ['of the first season alone', reportOf(first), 'cm',
      'A **first-season** plant gives **8 stems** (7 to 9), **26 in 100** of them extra.',
      'Una planta en su **primera temporada** da **8 tallos** (7 a 9), **26 de cada 100** extra.'],
    ['without grades', reportOf(age(2, 1, 0.6, 1.9)), 'cm',
      'A **second-season** plant gives **1 stem** (1 to 2).', 'Una planta en su **segunda temporada** da **1 tallo** (1 a 2).'],
    ['where the interval is narrower than a stem', reportOf(age(2, 20, 19.8, 20.3)), 'cm',
      'A **second-season** plant gives about **20 stems**.', 'Una planta en su **segunda temporada** da cerca de **20 tallos**.'],
    ['of an age past the words for it', reportOf(age(12, 20, 10, 31)), 'cm',
      'A **season-12** plant gives **20 stems** (10 to 31).', 'Una planta en su **temporada 12** da **20 tallos** (10 a 31).'],
    ['of nothing', reportOf(), 'cm',
      'No cut is recorded yet, so there is nothing to say about any age.',
      'Aún no hay cortes anotados, así que no hay nada que decir de ninguna edad.'],
  ]
  it.each(cases)('%s', async (_, report, unit, english, spanish) => {
    await speak('en')
    expect(agesSentence(report, unit)).toBe(english)
    await speak('es')
    expect(agesSentence(report, unit)).toBe(spanish)
  })
})

describe('a note', () => {
  it('is said in the language in use, its grade too', async () => {
    await speak('es')
    expect(noteText({ code: 'one_grade', args: { grade: 'first' }, text: 'x' })).toMatch(/^Todos los tallos clasificados fueron primera:/)
  })

  it('says in that language too which groups are apart', async () => {
    await speak('es')
    const args = { groups: '2', split: 'age 1, 2 in 2024; age 3 in 2025, 2026' }
    expect(noteText({ code: 'age_is_season', args, text: 'x' })).toContain('(temporadas 1, 2 en tierra en 2024; temporada 3 en tierra en 2025, 2026)')
  })

  // A flat prior is for comparison with other programs and never travels.
  it.each(noteCodes().filter((code) => !code.startsWith('flat_')))('%s of the shed is said in words', (code) => {
    expect(hasMessage(`ages.note.${code}`)).toBe(true)
  })

  it('of a later version stays English', async () => {
    await speak('es')
    expect(noteText({ code: 'of_a_later_version', args: {}, text: 'Something new.' })).toBe('Something new.')
  })
})

it.each([[0.4, [0, 1]], [3, [0, 1, 2, 3]], [18, [0, 5, 10, 15, 20]], [62, [0, 20, 40, 60, 80]], [89, [0, 25, 50, 75, 100]], [400, [0, 100, 200, 300, 400]]])('the axis to %d has round steps', (largest, ticks) => {
  expect(ticksTo(largest)).toEqual(ticks)
})
