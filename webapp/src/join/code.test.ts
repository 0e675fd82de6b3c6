import { expect, test } from 'vitest'
import { isWhole, normalCode, readable } from './code'
import { codeIn } from './link'

test.each([
  ['as it is shown', 'ABCD-EFGH', 'ABCDEFGH'],
  ['in small letters', 'abcd-efgh', 'ABCDEFGH'],
  ['with spaces', ' abcd efgh ', 'ABCDEFGH'],
  ['with another dash', 'ABCD–EFGH', 'ABCDEFGH'],
  ['with look-alikes', 'oil0-1abc', '01101ABC'],
  ['as it comes from a note, dots and all', 'A.B.C.D.E.F.G.H.', 'ABCDEFGH'],
])('a code %s is the same code', (_, typed, code) => {
  expect(normalCode(typed)).toBe(code)
  expect(isWhole(normalCode(typed))).toBe(true)
  expect(normalCode(readable(code))).toBe(code)
})

test.each(['', 'ABCD', 'ABCD-EFG', 'ABCD-EFGHJ'])('%j is no whole code', (typed) => {
  expect(isWhole(normalCode(typed))).toBe(false)
})

test.each([
  ['#join/ABCDEFGH', 'ABCDEFGH'], ['#/join/abcd-efgh', 'ABCDEFGH'], ['#join', ''], ['#/row', ''], ['#beds/join/ABCDEFGH', ''],
])('the address %s brings %j', (hash, code) => {
  expect(codeIn(hash)).toBe(code)
})
