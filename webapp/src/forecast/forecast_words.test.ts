import { expect, it } from 'vitest'
import { inHundred, sureInHundred } from './forecast_words'

// 0.29 and 0.58 times a hundred are a hair less than 29 and 58 in binary.
it.each([[0.29, 29], [0.58, 58], [0.899, 89], [0.9, 90], [0.999, 99], [1, 100], [0, 0]])('a chance of %d that somebody is promised is %d in a hundred, never more than it is', (chance, said) => {
  expect(sureInHundred(chance)).toBe(said)
})

it.each([[0.001, 1], [0.999, 99], [0.896, 90], [0, 0], [1, 100]])('one of %d that is only looked at is %d in a hundred, all or none only where it is', (chance, said) => {
  expect(inHundred(chance)).toBe(said)
})
