// Numbers as bits, told beside guesses: the other side of bitWriter in internal/forecast/week_code.go, which says how.

import { type NumberKind, numberKinds, type Numbers } from './week_code'

/** As in Go; the most ones that a number is told by, for who writes them. */
export const mostOnes = 20
const [missesMost, bitsOfNear] = [256, 15]
const kinds = Object.keys(numberKinds).length

/** By how much numbers of a kind were missed that were guessed alike. */
export class Missed {
  private readonly sums = new Float64Array(kinds * (bitsOfNear + 1))
  private readonly counts = new Int32Array(kinds * (bitsOfNear + 1))

  /** Where those of a kind and of as many bits of what is near stand. */
  at(of: NumberKind, near: number): number {
    return of * (bitsOfNear + 1) + Math.min(32 - Math.clz32(near), bitsOfNear)
  }

  /** How many bits of a miss are not told by their number of ones. */
  lowBits(at: number): number {
    const sum = this.sums[at]!
    let k = 0
    for (let n = this.counts[at]!; n < sum; n *= 2) k++ // of none the sum is 0
    return k
  }

  learn(at: number, miss: number): void {
    const sum = this.sums[at]! + miss
    const n = this.counts[at]! + 1
    this.sums[at] = n === missesMost ? Math.floor(sum / 2) : sum
    this.counts[at] = n === missesMost ? n / 2 : n
  }
}

export class BitReader implements Numbers {
  private readonly missed = new Missed()
  /** With room to look behind the end. */
  private readonly bytes: Uint8Array
  private readonly bits: number
  private at = 0

  constructor(bytes: Uint8Array) {
    this.bits = bytes.length * 8
    this.bytes = new Uint8Array(bytes.length + 8)
    this.bytes.set(bytes)
  }

  number(of: NumberKind, guess: number, near: number): number {
    const alike = this.missed.at(of, near)
    const miss = this.miss(this.missed.lowBits(alike))
    this.missed.learn(alike, miss)
    return miss % 2 === 1 ? guess - (miss + 1) / 2 : guess + miss / 2
  }

  /** How many bits are left; below 0 where more were read than there are. */
  get left(): number {
    return this.bits - this.at
  }

  private miss(low: number): number {
    const ones = Math.min(Math.clz32(~this.ahead()), mostOnes)
    if (ones === mostOnes) {
      this.at += mostOnes
      return this.take(32)
    }
    this.at += ones + 1
    return (low < 10 ? ones << low : ones * 2 ** low) + this.take(low)
  }

  private take(n: number): number {
    if (n === 0) return 0
    const bits = this.ahead() >>> (32 - n)
    this.at += n
    return bits
  }

  /** The next 32 bits. */
  private ahead(): number {
    if (this.at > this.bits) throw new Error('reading the forecast: its draws are cut off')
    const { bytes, at } = this
    const byte = at >>> 3
    const shift = at & 7
    const bits = (bytes[byte]! << 24) | (bytes[byte + 1]! << 16) | (bytes[byte + 2]! << 8) | bytes[byte + 3]!
    return shift === 0 ? bits : (bits << shift) | (bytes[byte + 4]! >>> (8 - shift))
  }
}
