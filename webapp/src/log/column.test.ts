// Columns at the ends of what a number may be, where a sum or a difference is no longer exact.

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { ByteReader, ByteWriter } from './bytes'
import { ShapeError } from './canonical'
import { readColumn, writeColumn } from './column'

const most = Number.MAX_SAFE_INTEGER

function throughBytes(numbers: readonly number[]): number[] {
  const w = new ByteWriter()
  writeColumn(w, numbers)
  return [...readColumn(new ByteReader(w.finish()), numbers.length)]
}

test.each<[string, number[]]>([
  ['a difference beyond 2^53-1 above one that is not', [-most, 2, most]],
  ['falling steadily to the least number, and one up', [...Array.from({ length: 60 }, (_, i) => -most + 100 * (59 - i)), -most + 1]],
  ['rising steadily to the greatest number, and one down', [...Array.from({ length: 60 }, (_, i) => most - 100 * (59 - i)), most - 1]],
])('%s are given back', (_, numbers) => expect(throughBytes(numbers)).toEqual(numbers))

const small = fc.integer({ min: 0, max: 300 })
const atAnEnd = fc.oneof(small.map(n => n - most), small.map(n => most - n), small, fc.maxSafeInteger())
const ramp = fc.tuple(fc.constantFrom(1, -1), fc.array(fc.integer({ min: -9, max: 200 }), { minLength: 1, maxLength: 40 }))
  .map(([sign, steps]) => {
    let n = sign * most
    return steps.map(step => (n = Math.max(-most, Math.min(most, n - sign * step)))).reverse()
  })

test('any numbers near the ends, and ramps to them, are given back', () => {
  fc.assert(fc.property(fc.oneof(fc.array(atAnEnd, { maxLength: 30 }), ramp), numbers => {
    expect(throughBytes(numbers)).toEqual(numbers)
  }), { numRuns: 3000 })
})

describe('what is beyond 2^53-1 is refused', () => {
  const large = [0xfe, 255, 255, 255, 255, 255, 255, 31] // svarint of 2^53-1
  test.each<[string, number, number[]]>([
    ['a plain number', 1, [0x01, ...large, 1]],
    ['a difference', 2, [0x41, 0xfd, 255, 255, 255, 255, 255, 255, 31, ...large, 1]],
    ['a sum', 2, [0x40, ...large, 2]],
  ])('%s', (_, k, bytes) => expect(() => readColumn(new ByteReader(Uint8Array.from(bytes)), k)).toThrow(ShapeError))
})
