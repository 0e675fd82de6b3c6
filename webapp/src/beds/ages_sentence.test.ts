import { afterEach, describe, expect, it } from 'vitest'
import { type Language, languageChoice, loadWords } from '../messages/messages'
import type { Age, GradeCell, Report } from './ages'
import { agesSentence, noteText } from './ages_sentence'
import { ticksTo } from './ages_scale'

const cell = (flush: 'spring' | 'fall', extra: number) =>
  ({ flush, stems: 100, plants: 10, p: { out: 0, second: 0, first: 1 - extra, extra } }) as unknown as GradeCell

function age(n: number, mean: number, lo: number, hi: number, grades: readonly GradeCell[] = []): Age {
  return { age: n, plant_seasons: 40, zero: 2, stems: { mean, lo, hi, size: 2, new_lo: 3, new_hi: 60 }, stems_total: 900, grades, plants: [] }
}

const reportOf = (...ages: Age[]): Report => ({ level: 0.9, ages, notes: [] })

const full = reportOf(age(1, 7.8, 6.9, 8.9, [cell('spring', 0.26)]), age(2, 21.6, 19.8, 23.5, [cell('spring', 0.43), cell('fall', 0.3)]))

async function speak(language: Language): Promise<void> {
  languageChoice.value = language
  await loadWords(language)
}

afterEach(() => { languageChoice.value = 'auto' })

describe('the sentence that leads Ages', () => {
  const cases: [string, Report, string, string][] = [
    ['of the second season against the first', full,
      'A **second-season** plant gives **22 stems**, between 20 and 24; **43 in 100** are extra, against 26 in its first.',
      'Una planta en su **segunda temporada** da **22 tallos**, entre 20 y 24; **43 de cada 100** son extra, contra 26 en la primera.'],
    ['of the first season alone', reportOf(age(1, 7.8, 6.9, 8.9, [cell('spring', 0.26)])),
      'A **first-season** plant gives **8 stems**, between 7 and 9; **26 in 100** are extra.',
      'Una planta en su **primera temporada** da **8 tallos**, entre 7 y 9; **26 de cada 100** son extra.'],
    ['without grades', reportOf(age(2, 1, 0.6, 1.9)),
      'A **second-season** plant gives **1 stem**, between 1 and 2.', 'Una planta en su **segunda temporada** da **1 tallo**, entre 1 y 2.'],
    ['where the interval is narrower than a stem', reportOf(age(2, 20, 19.8, 20.3)),
      'A **second-season** plant gives about **20 stems**.', 'Una planta en su **segunda temporada** da cerca de **20 tallos**.'],
    ['of an age past the words for it', reportOf(age(12, 20, 10, 31)),
      'A **season-12** plant gives **20 stems**, between 10 and 31.', 'Una planta en su **temporada 12** da **20 tallos**, entre 10 y 31.'],
    ['of nothing', reportOf(),
      'No cut is recorded yet, so there is nothing to say about any age.',
      'Aún no hay cortes anotados, así que no hay nada que decir de ninguna edad.'],
  ]
  it.each(cases)('%s', async (_, report, english, spanish) => {
    await speak('en')
    expect(agesSentence(report)).toBe(english)
    await speak('es')
    expect(agesSentence(report)).toBe(spanish)
  })
})

describe('a note', () => {
  it('is said in the language in use, its grade too', async () => {
    await speak('es')
    expect(noteText({ code: 'one_grade', args: { grade: 'first' }, text: 'x' })).toMatch(/^Todos los tallos clasificados fueron primera:/)
  })

  it('of a later version stays English', async () => {
    await speak('es')
    expect(noteText({ code: 'of_a_later_version', args: {}, text: 'Something new.' })).toBe('Something new.')
  })
})

it.each([[0.4, [0, 1]], [3, [0, 1, 2, 3]], [18, [0, 5, 10, 15, 20]], [62, [0, 20, 40, 60, 80]], [89, [0, 25, 50, 75, 100]], [400, [0, 100, 200, 300, 400]]])('the axis to %d has round steps', (largest, ticks) => {
  expect(ticksTo(largest)).toEqual(ticks)
})
