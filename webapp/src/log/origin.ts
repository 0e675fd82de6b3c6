// What a visit's id is derived from (PROTOCOL.md, section 6): UUID version 5 (RFC 9562), so that an
// id needs no room of its own where its parts are known. Mirrors syncproto/names.go.

import { sha1 } from '@noble/hashes/legacy.js'

export interface Origin {
  /** A UUID in lower case: the incarnation. */
  readonly namespace: string
  readonly person: string
  readonly subject: string
  readonly recorded: string
  readonly purpose: string
}

export const originParts = ['namespace', 'person', 'subject', 'recorded', 'purpose'] as const

/** Bytes that a part may have. */
const maxPart = 128
const textBytes = new TextEncoder()
/** Namespace, and four texts with a line end each. */
const name = new Uint8Array(16 + 4 * (maxPart + 1))

/** The id; undefined where the namespace is no UUID in lower case or a part is too long. */
export function originID(o: Origin): string | undefined {
  if (!writeUUID(o.namespace, name, 0)) return undefined
  let at = 16
  for (const part of [o.person, o.subject, o.recorded, o.purpose]) {
    const length = writeText(part, at)
    if (length > maxPart) return undefined
    at += length
    name[at++] = lineEnd
  }
  const sum = sha1(name.subarray(0, at - 1)) // no line end after the last
  sum[6] = (sum[6]! & 0x0f) | 0x50
  sum[8] = (sum[8]! & 0x3f) | 0x80
  return uuidText(sum, 0)
}

const lineEnd = 10

/** Its length in UTF-8, or more than a part may have. */
function writeText(text: string, at: number): number {
  if (text.length > maxPart) return Infinity
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i)
    if (unit > 127) return writeEncoded(text, at)
    name[at + i] = unit
  }
  return text.length
}

function writeEncoded(text: string, at: number): number {
  const { read, written } = textBytes.encodeInto(text, name.subarray(at, at + maxPart))
  return read === text.length ? written : Infinity
}

const dashes = new Set([8, 13, 18, 23])
/** Of the 36 characters, the first of each pair of digits. */
const pairs = Array.from({ length: 36 }, (_, i) => i).filter(i => !dashes.has(i)).filter((_, i) => i % 2 === 0)

/** Writes the 16 bytes of a UUID of 36 characters in lower case; tells whether the text is one. */
export function writeUUID(text: string, into: Uint8Array, at: number): boolean {
  if (text.length !== 36) return false
  for (const dash of dashes) if (text.charCodeAt(dash) !== 45) return false
  for (let i = 0; i < 16; i++) {
    const high = digit(text.charCodeAt(pairs[i]!))
    const low = digit(text.charCodeAt(pairs[i]! + 1))
    if (high < 0 || low < 0) return false
    into[at + i] = (high << 4) | low
  }
  return true
}

function digit(unit: number): number {
  if (unit >= 48 && unit <= 57) return unit - 48
  return unit >= 97 && unit <= 102 ? unit - 87 : -1
}

const hex = Array.from({ length: 256 }, (_, b) => b.toString(16).padStart(2, '0'))

/** The UUID of the 16 bytes from there, as text. */
export function uuidText(b: Uint8Array, at: number): string {
  const of = (i: number) => hex[b[at + i]!]!
  return `${of(0)}${of(1)}${of(2)}${of(3)}-${of(4)}${of(5)}-${of(6)}${of(7)}-${of(8)}${of(9)}-${of(10)}${of(11)}${of(12)}${of(13)}${of(14)}${of(15)}`
}
