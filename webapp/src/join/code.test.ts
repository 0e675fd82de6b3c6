import { expect, test } from 'vitest'
import { isWhole, misread, normalCode, readable } from './code'
import { codeIn } from './link'

test.each([
  ['as it is shown', 'ACDE-FGHJ', 'ACDEFGHJ'],
  ['in small letters', 'acde-fghj', 'ACDEFGHJ'],
  ['with spaces', ' acde fghj ', 'ACDEFGHJ'],
  ['with another dash', 'ACDE–FGHJ', 'ACDEFGHJ'],
  ['as it comes from a note, dots and all', 'A.C.D.E.F.G.H.J.', 'ACDEFGHJ'],
  ['of the first owner', 'ACDEFGHJACDEFGHJACDEFGHJ', 'ACDEFGHJACDEFGHJACDEFGHJ'],
])('a code %s is the same code', (_, typed, code) => {
  expect(normalCode(typed)).toBe(code)
  expect(isWhole(normalCode(typed))).toBe(true)
  expect(misread(normalCode(typed))).toBe('')
  expect(normalCode(readable(code))).toBe(code)
})

test.each(['', 'ACDE', 'ACDE-FGH', 'ACDE-FGHJK', 'ACDE-FGH0'])('%j is no whole code', (typed) => {
  expect(isWhole(normalCode(typed))).toBe(false)
})

test.each([['ACD0', '0'], ['OCDE', 'O'], ['ACDE-FGHI', 'I'], ['B', 'B']])('in %j something was misread', (typed, letter) => {
  expect(misread(normalCode(typed))).toBe(letter)
})

test.each([
  ['#join/ACDEFGHJ', 'ACDEFGHJ'], ['#/join/acde-fghj', 'ACDEFGHJ'], ['#join', ''], ['#/row', ''], ['#beds/join/ACDEFGHJ', ''],
])('the address %s brings %j', (hash, code) => {
  expect(codeIn(hash)).toBe(code)
})
