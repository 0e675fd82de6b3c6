// A shed for tests that takes photos as server/photos and server/httpapi do, but for what is unfinished: here
// phones share that, which is harder on them.

import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import type { PhotoHash } from '../../crop/nouns'
import type { Bytes } from '../photo_db'
import type { Answer, Refusal } from '../sending'

/** Bytes of a photo, as server/photos/limits.go has it. */
const limit = 24 << 20

interface Upload {
  readonly size: number
  readonly bytes: Bytes
}

export class ShedModel {
  readonly whole = new Map<PhotoHash, Bytes>()
  readonly unfinished = new Map<PhotoHash, Upload>()
  /** What an owner deleted. */
  readonly removed = new Set<PhotoHash>()
  /** Tells how a piece of a photo is refused, if it is. */
  refuse: ((hash: PhotoHash) => Partial<Refusal> | undefined) | undefined
  /** Every request, in short. */
  readonly log: string[] = []

  missing(hashes: readonly PhotoHash[]): Answer {
    this.log.push(`missing ${hashes.length}`)
    return { kind: 'missing', hashes: hashes.filter(hash => !this.whole.has(hash)) }
  }

  head(hash: PhotoHash): Answer {
    this.log.push('head')
    return this.state(hash)
  }

  /** The piece as it came: less than was sent where the line broke meanwhile. */
  piece(hash: PhotoHash, size: number, offset: number, piece: Bytes): Answer {
    this.log.push(`piece ${offset}+${piece.length}`)
    const refused = this.refuse?.(hash)
    if (refused) return this.refusal(hash, refused)
    if (this.removed.has(hash)) return this.refusal(hash, { status: 410, code: 'removed' })
    if (size > limit) return this.refusal(hash, { status: 413, code: 'too_large' })
    const standing = this.unfinished.get(hash)
    if (standing && standing.size !== size && offset === 0) this.unfinished.delete(hash)
    const { offset: at, length } = this.state(hash)
    if (length !== 0 && length !== size) return this.refusal(hash, { status: 400, code: 'length' })
    if (offset !== at) return this.refusal(hash, { status: 409, code: 'offset' })
    if (this.whole.has(hash)) return this.state(hash)
    const bytes = joined(this.unfinished.get(hash)?.bytes ?? new Uint8Array(0), piece)
    if (bytes.length > size) return this.refusal(hash, { status: 400, code: 'length' })
    if (bytes.length > 0) this.unfinished.set(hash, { size, bytes })
    return bytes.length === size ? this.finish(hash, bytes) : this.state(hash)
  }

  remove(hash: PhotoHash): void {
    this.removed.add(hash)
    this.whole.delete(hash)
    this.unfinished.delete(hash)
  }

  private finish(hash: PhotoHash, bytes: Bytes): Answer {
    this.unfinished.delete(hash)
    if (bytesToHex(sha256(bytes)) !== hash) return this.refusal(hash, { status: 422, code: 'hash' })
    this.whole.set(hash, bytes)
    return this.state(hash)
  }

  private state(hash: PhotoHash): Answer & { readonly kind: 'has' } {
    const whole = this.whole.get(hash)
    if (whole) return { kind: 'has', offset: whole.length, whole: true, length: whole.length }
    const upload = this.unfinished.get(hash)
    return { kind: 'has', offset: upload?.bytes.length ?? 0, whole: false, length: upload?.size ?? 0 }
  }

  private refusal(hash: PhotoHash, refused: Partial<Refusal>): Answer {
    return { kind: 'refused', status: 500, code: '', offset: this.state(hash).offset, limit, ...refused }
  }
}

function joined(a: Bytes, b: Bytes): Bytes {
  const both = new Uint8Array(a.length + b.length)
  both.set(a)
  both.set(b, a.length)
  return both
}
