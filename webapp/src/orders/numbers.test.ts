import { describe, expect, it } from 'vitest'
import type { Millimetres } from '../crop/nouns'
import { amountFrom, lengthFrom, percentFrom, percentTyped } from './numbers'
import { wholeFrom } from '../ui/whole_number'

describe('a whole number', () => {
  it.each([['1', 1], [' 12 ', 12], ['9999', 9999], ['0', undefined], ['10000', undefined], ['-3', undefined], ['1.5', undefined], ['', undefined], ['99999999999', undefined]])(
    'from 1 to 9,999 is "%s" typed for %s', (text, n) => expect(wholeFrom(text, 1, 9_999)).toBe(n),
  )
})

describe('a percentage', () => {
  it.each([['', 0], ['12.5', 1250], ['12,55', 1255], ['100', 10_000], ['100.01', undefined], ['7.125', undefined], ['-1', undefined], ['much', undefined]])(
    'of "%s" is %s hundredths', (text, n) => expect(percentFrom(text)).toBe(n),
  )
  it.each([[0, ''], [1250, '12.5'], [700, '7'], [10_000, '100'], [1_000, '10'], [5, '0.05']])('of %i hundredths is typed "%s" and read back', (n, typed) => {
    expect([percentTyped(n), percentFrom(typed)]).toEqual([typed, n])
  })
})

it.each([['', 0], ['5.20', 520], ['0', 'zero'], ['0,00', 'zero'], ['-5', undefined], ['1000000.01', undefined], ['five', undefined]])('an amount "%s" is %s', (text, cents) => {
  expect(amountFrom(text)).toBe(cents)
})

it.each([
  ['40', 'cm', 0, 400], ['', 'cm', 400, 0], ['16', 'in', 0, 406], ['16', 'in', 400, 400], ['201', 'cm', 0, undefined], ['forty', 'cm', 0, undefined], ['40.5', 'cm', 0, undefined],
] as const)('a least length "%s" in %s over %i mm is %s mm', (text, unit, before, mm) => {
  expect(lengthFrom(text, unit, before as Millimetres)).toBe(mm)
})
