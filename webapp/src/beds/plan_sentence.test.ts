import { afterEach, describe, expect, it } from 'vitest'
import type { Season } from '../crop/nouns'
import { type Language, languageChoice, loadWords } from '../messages/messages'
import { planSentence, reachedSentence, restsOn, shownAssurance, shownHalf } from './plan_sentence'
import type { PlanSettings } from './plan_settings'

const asked: PlanSettings = { by: 'minutes', minutes: 10, stems: 3, assurance: 0.8, seconds: 8, cuts: 16, aims: {} }

async function speak(language: Language): Promise<void> {
  languageChoice.value = language
  await loadWords(language)
}

afterEach(() => { languageChoice.value = 'auto' })

describe('the sentence of the plan', () => {
  const cases: [string, Parameters<typeof planSentence>, string, string][] = [
    ['from minutes, of the age known worst', [[{ planned: 27, half: 6.13 }, { planned: 48, half: 2.2 }], asked],
      '**10 minutes a cut**: **75 plants** counted. The mean of every age comes out within **±6.1 stems** on 80 of 100 farms like this one. In a flush of 16 cuts that is 3 hours.',
      '**10 minutos por corte**: **75 plantas** contadas. El promedio de cada edad queda dentro de **±6.1 tallos** en 80 de 100 fincas como esta. En una floración de 16 cortes son 3 horas.'],
    ['from precision', [[{ planned: 85, half: 3 }], { ...asked, by: 'stems', assurance: 0.5 }],
      'For **±3 stems** on 50 of 100 farms like this one, count **85 plants**. That is 12 minutes a cut, 3 hours in a flush of 16 cuts.',
      'Para **±3 tallos** en 50 de 100 fincas como esta, cuente **85 plantas**. Toma 12 minutos por corte, 3 horas en una floración de 16 cortes.'],
    ['from too few minutes', [[{ planned: 2, half: 20 }, { planned: 1, half: Infinity }], { ...asked, minutes: 1 }],
      '**1 minute a cut**: **3 plants** counted. That is too little to know every age: each needs two plants at least. Give it more minutes.',
      '**1 minuto por corte**: **3 plantas** contadas. Es muy poco para conocer cada edad: cada una necesita dos plantas por lo menos. Dele más minutos.'],
    ['from minutes that are enough for all', [[{ planned: 40, half: 0 }], asked],
      '**10 minutes a cut**: **40 plants** counted. That is every plant: nothing is left open. In a flush of 16 cuts that is 96 minutes.',
      '**10 minutos por corte**: **40 plantas** contadas. Son todas las plantas: no queda nada abierto. En una floración de 16 cortes son 96 minutos.'],
  ]
  it.each(cases)('%s', async (_, args, english, spanish) => {
    await speak('en')
    expect(planSentence(...args)).toBe(english)
    await speak('es')
    expect(planSentence(...args)).toBe(spanish)
  })
})

describe('whether the precision was met', () => {
  const reached = { season: 2026 as Season, plants: 34, open: 0, mean: 18.2, half: 4.1, next: null }
  it.each([
    ['met', { met: 'yes', half: 2.42, more: 0 } as const, 34, 'Season 2: 34 plants gave 18 stems each on average in 2026, ±2.4; wanted: ±3. Met.'],
    ['not met', { met: 'no', half: 4.1, more: 27 } as const, 34, 'Season 2: 34 plants gave 18 stems each on average in 2026, ±4.1; wanted: ±3. Not met: count 27 plants more in the next flush, to reach it 80 times in 100.'],
    ['not to be told from one', { met: 'unknown' } as const, 1, 'Season 2: 1 plant gave 18 stems in 2026. One plant alone cannot tell how precise that is.'],
  ])('%s', async (_, verdict, plants, said) => {
    await speak('en')
    expect(reachedSentence(2, { ...reached, plants }, verdict, 3, 0.8)).toBe(said)
  })
})

it('what an age rests on is said where it is not the age itself', async () => {
  await speak('en')
  expect([restsOn(2, 2), restsOn(4, 3), restsOn(1, 0)]).toEqual([
    '', 'Season 4 was not counted yet: taken from season 3, with room for a difference.',
    'Season 1: nothing like it was counted here yet, so this is common practice, and wide. Count a few, and the plan gets surer.',
  ])
})

it.each([[0, 'under 5'], [0.574, '57'], [1, 'over 98']])('an assurance of %d is shown as %s', async (assurance, shown) => {
  await speak('en')
  expect(shownAssurance(assurance)).toBe(shown)
})

it.each([[2.44, 2.4], [0, 0], [9.96, 10], [13.4, 13]])('a half-width of %d is shown as %d', (half, shown) => {
  expect(shownHalf(half)).toBe(shown)
})
