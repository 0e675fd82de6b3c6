import { describe, expect, it } from 'vitest'
import { pressed } from './digits'

describe('what a digit comes to', () => {
  const cases: [string, number | undefined, number, number | undefined][] = [
    ['a handful at once', undefined, 4, 4],
    ['the first of two digits waits', 0, 2, undefined],
    ['the second completes it', 2, 5, 25],
    ['a nought completes it', 1, 0, 10],
  ]
  it.each(cases)('%s', (_, tens, digit, stems) => {
    expect(pressed(tens, digit)).toBe(stems)
  })
})
