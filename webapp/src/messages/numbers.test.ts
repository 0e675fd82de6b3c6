import { expect, test } from 'vitest'
import { count, decimal } from './messages'

test.each([[Math.round(-0.3), '0'], [-0, '0'], [-1, '-1'], [1500, '1,500']])('%d counts as %s', (n, said) => {
  expect(count(n)).toBe(said)
})

test.each([[-0.04, 1, '0.0'], [-0.05, 1, '-0.1'], [-0.004, 2, '0.00'], [0.04, 1, '0.0'], [-3.26, 1, '-3.3']])('%d with %d digits is told as %s', (n, digits, said) => {
  expect(decimal(n, digits)).toBe(said)
})
