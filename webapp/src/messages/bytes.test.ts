import { expect, test } from 'vitest'
import { bytesName } from './messages'

test.each([
  [0, '1 kB'], [999, '1 kB'], [820_000, '820 kB'], [999_400, '999 kB'], [1_000_000, '1 MB'], [4_140_000, '4.1 MB'], [41_400_000, '41 MB'],
])('%d bytes are told as %s', (bytes, said) => {
  expect(bytesName(bytes)).toBe(said)
})
