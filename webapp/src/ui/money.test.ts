import { afterEach, describe, expect, it } from 'vitest'
import type { Cents } from '../crop/sale_nouns'
import { languageChoice } from '../messages/messages'
import { amount, parseAmount, parseSigned, typedAmount } from './money'

afterEach(() => { languageChoice.value = 'en' })

it.each([
  ['5.20', 520], ['5,2', 520], [' 12 ', 1200], ['0.07', 7], ['1000000', 100_000_000],
  ['1000000.01', undefined], ['5.203', undefined], ['5.', undefined], ['-1', undefined], ['', undefined], ['five', undefined], ['1.000,00', undefined],
])('"%s" is typed for %s cents', (typed, cents) => expect(parseAmount(typed)).toBe(cents))

describe('an amount', () => {
  it.each<[number, string, 'en' | 'es', string]>([
    [520, 'EUR', 'en', '€5.20'], [7, '', 'en', '0.07'], [-1250, 'USD', 'en', '−$12.50'], [123456789, '', 'en', '1,234,567.89'], [520, '', 'es', '5.20'],
  ])('of %i cents in %s is shown in %s as %s', (cents, currency, language, shown) => {
    languageChoice.value = language
    expect(amount(cents as Cents, currency)).toBe(shown)
  })

  it.each(['en', 'es'] as const)('typed over in %s is read back', (language) => {
    languageChoice.value = language
    for (let cents = 0; cents < 3000; cents++) expect(parseAmount(typedAmount(cents as Cents))).toBe(cents)
  })
})

describe('an amount that may be below zero', () => {
  it.each([['-5.20', -520], ['−5,20', -520], ['5.20', 520], ['-0', 0], ['--5', undefined], ['-', undefined], ['', undefined]])('%s', (typed, want) => expect(parseSigned(typed)).toBe(want))
  it('is typed over as it is read', () => expect(parseSigned(typedAmount(-1205 as Cents, 'en'))).toBe(-1205))
})
