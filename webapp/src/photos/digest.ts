// The name of a photo: the SHA-256 of its bytes.

import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex } from '@noble/hashes/utils.js'
import type { PhotoHash } from '../crop/nouns'

/** The browser's own is quick and leaves the page free meanwhile, but is there on a secure origin alone. */
export async function digest(bytes: Uint8Array<ArrayBuffer>): Promise<PhotoHash> {
  const subtle = globalThis.crypto?.subtle
  const hash = subtle ? new Uint8Array(await subtle.digest('SHA-256', bytes)) : sha256(bytes)
  return bytesToHex(hash) as PhotoHash
}
