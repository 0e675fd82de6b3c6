// Bytes written and read in turn: numbers as LEB128 (a signed one in zigzag form), texts as UTF-8.

import { ShapeError } from './canonical'

/** Ten groups of seven bits hold any number of 64 bits. */
const longestVarint = 10

export class ByteWriter {
  private bytes = new Uint8Array(1024)
  private length = 0

  byte(b: number): void {
    if (this.length === this.bytes.length) this.grow(1)
    this.bytes[this.length++] = b
  }

  raw(bytes: Uint8Array): void {
    if (this.length + bytes.length > this.bytes.length) this.grow(bytes.length)
    this.bytes.set(bytes, this.length)
    this.length += bytes.length
  }

  uvarint(n: number): void {
    let left = n
    while (left >= 128) {
      this.byte((left % 128) + 128)
      left = Math.floor(left / 128)
    }
    this.byte(left)
  }

  /** Within ±(2^53-1). */
  svarint(n: number): void {
    // Twice the number may be beyond what is exact, so its lowest group of bits is taken first.
    const size = n < 0 ? -(n + 1) : n
    const low = (size % 64) * 2 + (n < 0 ? 1 : 0)
    if (size < 64) return this.byte(low)
    this.byte(low + 128)
    this.uvarint(Math.floor(size / 64))
  }

  private grow(by: number): void {
    const larger = new Uint8Array(2 * this.bytes.length + by)
    larger.set(this.bytes)
    this.bytes = larger
  }

  /** A copy of exactly what was written. */
  finish(): Uint8Array<ArrayBuffer> {
    return this.bytes.slice(0, this.length)
  }
}

/** Bytes that a signed number takes. */
export function svarintLength(n: number): number {
  const size = n < 0 ? -(n + 1) : n
  return Math.max(1, Math.ceil((bitsOf(size) + 1) / 7))
}

/** Bytes that a text takes in UTF-8. */
export function textLength(text: string): number {
  let bytes = text.length
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i)
    if (unit < 0x80) continue
    // Each half of a pair of surrogates counts two of the four bytes that they take together.
    bytes += unit >= 0x800 && (unit < 0xd800 || unit > 0xdfff) ? 2 : 1
  }
  return bytes
}

/** Bits of a whole number of at least 0. */
export function bitsOf(n: number): number {
  return n < 2 ** 32 ? 32 - Math.clz32(n) : 64 - Math.clz32(Math.floor(n / 2 ** 32))
}

/** Reads in turn. Whatever is not there or out of bounds is a ShapeError. */
export class ByteReader {
  at = 0

  constructor(readonly data: Uint8Array) {}

  get left(): number {
    return this.data.length - this.at
  }

  byte(): number {
    if (this.at >= this.data.length) throw new ShapeError('a packed message ends early')
    return this.data[this.at++]!
  }

  bytes(n: number): Uint8Array {
    if (n > this.left) throw new ShapeError('a packed message ends early')
    this.at += n
    return this.data.subarray(this.at - n, this.at)
  }

  uvarint(): number {
    const n = this.varint()
    if (n > Number.MAX_SAFE_INTEGER) throw new ShapeError('a packed number is beyond 2^53-1')
    return n
  }

  /** A number of things of which there may be so many. */
  count(most: number): number {
    const n = this.uvarint()
    if (n > most) throw new ShapeError(`a packed message holds ${n} of what there may be ${most}`)
    return n
  }

  /** Within ±(2^53-1). */
  svarint(): number {
    const low = this.byte()
    const high = low < 128 ? 0 : this.varint()
    const size = high * 64 + ((low & 127) >> 1)
    const n = low % 2 === 0 ? size : -size - 1
    if (!Number.isSafeInteger(n)) throw new ShapeError('a packed number is beyond 2^53-1')
    return n
  }

  private varint(): number {
    let n = 0
    let scale = 1
    for (let i = 0; i < longestVarint; i++) {
      const b = this.byte()
      n += (b & 127) * scale
      if (b < 128) return n
      scale *= 128
    }
    throw new ShapeError('a packed number has too many bytes')
  }
}
