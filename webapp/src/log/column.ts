// A column: a run of whole numbers in the shortest of three forms (PROTOCOL.md, section 4). The two
// packed forms are frame-of-reference coding: what is left above the least number has so many bits.
// Mirrors syncproto/column.go.

import type { ByteReader, ByteWriter } from './bytes'
import { bitsOf, svarintLength } from './bytes'
import { ShapeError } from './canonical'

const formPlain = 0
const formDifferences = 1
const formRaw = 2
const maxWidth = 48
/** Bits taken at a time: with seven more they still fit a 32-bit number. */
const chunkWidth = 24

/** A base, and the bits that each number above it takes. */
interface Packing {
  readonly base: number
  readonly width: number
}

export function writeColumn(w: ByteWriter, numbers: readonly number[]): void {
  const k = numbers.length
  if (k === 0) return
  const first = numbers[0]!
  const plain = packingOf(numbers)
  const [steps, differences] = differencesOf(numbers)
  const sizes = [
    sizeOf(plain, k, 0),
    k === 1 ? 1 + svarintLength(first) : sizeOf(differences, k - 1, svarintLength(first)),
    numbers.reduce((size, n) => size + svarintLength(n), 1),
  ]
  const form = sizes.indexOf(Math.min(...sizes))
  if (form === formPlain) {
    w.byte(plain.width)
    w.svarint(plain.base)
    pack(w, numbers.map(n => n - plain.base), plain.width)
  } else if (form === formDifferences) {
    w.byte((formDifferences << 6) | differences.width)
    w.svarint(first)
    w.svarint(differences.base)
    pack(w, steps.map(n => n - differences.base), differences.width)
  } else {
    w.byte(formRaw << 6)
    for (const n of numbers) w.svarint(n)
  }
}

function packingOf(numbers: readonly number[]): Packing {
  let low = numbers[0]!
  let high = low
  for (const n of numbers) {
    if (n < low) low = n
    else if (n > high) high = n
  }
  return { base: low, width: bitsOf(high - low) }
}

/** The differences, and how they are packed. */
function differencesOf(numbers: readonly number[]): [readonly number[], Packing] {
  if (numbers.length === 1) return [[], { base: 0, width: 0 }]
  const steps = numbers.slice(1).map((n, i) => n - numbers[i]!)
  // One beyond 2^53-1 may be rounded: then none is packed.
  return [steps, steps.every(Number.isSafeInteger) ? packingOf(steps) : { base: 0, width: Infinity }]
}

/** Bytes of k packed numbers with their header; before is what stands ahead of the base. */
function sizeOf({ base, width }: Packing, k: number, before: number): number {
  const fits = width <= maxWidth && Number.isSafeInteger(base)
  return !fits ? Infinity : 1 + before + svarintLength(base) + Math.ceil((k * width) / 8)
}

/** Fills each byte from its lowest bit. */
function pack(w: ByteWriter, numbers: readonly number[], width: number): void {
  let held = 0
  let bits = 0
  const put = (n: number, count: number): void => {
    held |= n << bits
    bits += count
    for (; bits >= 8; bits -= 8) {
      w.byte(held & 255)
      held >>>= 8
    }
  }
  for (const n of numbers) {
    if (width <= chunkWidth) put(n, width)
    else {
      put(n % 2 ** chunkWidth, chunkWidth)
      put(Math.floor(n / 2 ** chunkWidth), width - chunkWidth)
    }
  }
  if (bits > 0) w.byte(held & 255)
}

/** Reads a column of k numbers. */
export function readColumn(r: ByteReader, k: number): Float64Array {
  const into = new Float64Array(k)
  if (k === 0) return into
  const header = r.byte()
  const form = header >> 6
  const width = header & 63
  if (width > maxWidth || form > formRaw || (form === formRaw && width !== 0)) {
    throw new ShapeError(`a column is of the unknown form ${header}`)
  }
  if (form === formPlain) readPlain(r, into, width)
  else if (form === formDifferences) readDifferences(r, into, width)
  else for (let i = 0; i < k; i++) into[i] = r.svarint()
  return into
}

function readPlain(r: ByteReader, into: Float64Array, width: number): void {
  const base = r.svarint()
  unpack(r, into, width)
  for (let i = 0; i < into.length; i++) into[i] = within(into[i]! + base)
}

function readDifferences(r: ByteReader, into: Float64Array, width: number): void {
  into[0] = r.svarint()
  if (into.length === 1) return
  const base = r.svarint()
  unpack(r, into.subarray(1), width)
  for (let i = 1; i < into.length; i++) into[i] = within(into[i - 1]! + within(base + into[i]!))
}

/** What is beyond 2^53-1 stays so when it is rounded. */
function within(n: number): number {
  if (!Number.isSafeInteger(n)) throw new ShapeError('a packed number is beyond 2^53-1')
  return n
}

function unpack(r: ByteReader, into: Float64Array, width: number): void {
  const data = r.bytes(Math.ceil((into.length * width) / 8))
  if (width === 0) return
  const low = Math.min(width, chunkWidth)
  const high = width - low
  let at = 0
  let held = 0
  let bits = 0
  const take = (count: number): number => {
    for (; bits < count; bits += 8) held |= data[at++]! << bits
    const n = held & (2 ** count - 1)
    held >>>= count
    bits -= count
    return n
  }
  for (let i = 0; i < into.length; i++) into[i] = high === 0 ? take(low) : take(low) + take(high) * 2 ** chunkWidth
}
