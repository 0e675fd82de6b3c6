// The chain over the canonical bytes of an incarnation's changes, by which a phone and the shed
// prove that they hold the same past. Mirrors syncproto/chain.go.

import { sha256 } from '@noble/hashes/sha2.js'
import { bytesToHex, concatBytes, hexToBytes, utf8ToBytes } from '@noble/hashes/utils.js'

/** The chain value of an incarnation before its first change, in lower-case hexadecimal. */
export function chainStart(farm: string, incarnation: string): string {
  return bytesToHex(sha256(utf8ToBytes(`corymb chain 1\n${farm}\n${incarnation}\n`)))
}

/** The chain value after the changes with these canonical texts: SHA-256(h ‖ canonical) for each. */
export function chainAfter(hash: string, texts: readonly string[]): string {
  let h = hexToBytes(hash)
  for (const text of texts) h = sha256(concatBytes(h, utf8ToBytes(text)))
  return bytesToHex(h)
}
