import { expect, it } from 'vitest'
import { inPiece, piecesOf } from './pieces'

const marks = (n: number, other?: number) => Array.from({ length: n }, (_, i) => ({ what: i === other ? 'other' : 'ring' }))
const same = (a: { readonly what: string }, b: { readonly what: string }) => a.what === b.what

it('hold every mark in its order, the last piece what is left', () => {
  const numbers = Array.from({ length: 2 * inPiece + 1 }, (_, i) => i)
  const pieces = piecesOf(numbers, [], (a, b) => a === b)
  expect(pieces.flat()).toEqual(numbers)
  expect(pieces.map(({ length }) => length)).toEqual([inPiece, inPiece, 1])
})

it.each<[string, number, number | undefined, number]>([
  ['one where one mark of 2,000 is another', 2_000, 777, 1],
  ['none where every mark is what it was', 2_000, undefined, 0],
  ['one where a mark came at the end', 2_001, undefined, 1],
  ['one where a mark went from the end', 1_999, undefined, 1],
])('to be drawn again are %s', (_, n, other, drawn) => {
  const before = piecesOf(marks(2_000), [], same)
  const after = piecesOf(marks(n, other), before, same)
  expect(after.flat()).toEqual(marks(n, other))
  expect(after.filter((piece, i) => piece !== before[i])).toHaveLength(drawn)
})
