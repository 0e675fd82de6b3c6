import { describe, expect, it } from 'vitest'
import { dateFormsOf, readCents, readDay, readNumber } from './cells'

describe('numbers with points or commas', () => {
  it.each([
    ['7', 7], ['7.5', 7.5], ['7,5', 7.5], ['-0,5', -0.5], ['−3', -3], ['1.234,56', 1234.56], ['1,234.56', 1234.56], ['1 234,5', 1234.5], ['0.125', 0.125], [',5', 0.5],
    ['12.50', 12.5], ['1234', 1234], ['1234.567', 1234.567],
    ['1.234', undefined], ['1,234', undefined], ['1.2.3', undefined], ['1,2.3,4', undefined], ['12,34.5', undefined], ['7 cm', undefined], ['1e3', undefined], ['', undefined], ['--1', undefined],
  ])('%s', (text, want) => expect(readNumber(text)).toBe(want))
})

describe('amounts in whole cents', () => {
  it.each([
    ['5.20', 520], ['5,2', 520], ['€5.20', 520], ['5,20 €', 520], ['USD 5', 500], ['$ 1,234.50', 123_450], ['0', 0], ['0.29', 29], ['1.15', 115], ['8.10', 810],
    ['5.205', undefined], ['-1', undefined], ['1.234', undefined], ['five', undefined], ['9999999999', undefined],
  ])('%s', (text, want) => expect(readCents(text)).toBe(want))
})

describe('dates', () => {
  it.each([
    ['2026-05-28', 'ymd', '2026-05-28'], ['2026/5/8', 'ymd', '2026-05-08'], ['28/05/2026', 'dmy', '2026-05-28'], ['5/28/2026', 'mdy', '2026-05-28'], ['28.5.2026', 'dmy', '2026-05-28'],
    ['2026-05-28', 'dmy', '2026-05-28'], ['28/05/2026', 'mdy', undefined], ['28/05/26', 'dmy', undefined], ['2026-02-30', 'ymd', undefined], ['28/05/2026', 'ymd', undefined],
  ] as const)('%s as %s', (text, form, want) => expect(readDay(text, form)).toBe(want))

  it.each([
    [['2026-05-28', ''], ['ymd', 'dmy', 'mdy']], [['28/05/2026', '01/02/2026'], ['dmy']], [['05/28/2026'], ['mdy']], [['01/02/2026'], ['dmy', 'mdy']], [['13/13/2026'], []],
  ])('%j are written as %j', (cells, want) => expect(dateFormsOf(cells)).toEqual(want))
})
