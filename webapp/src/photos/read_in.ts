// Bringing photos to the shed out of a file that another phone saved (saved.ts), in pieces as from a phone.
// A photo that is there already is not sent, so the same file does no harm twice.

import type { PhotoHash } from '../crop/nouns'
import { digest } from './digest'
import type { Bytes } from './photo_db'
import { type ShedPhotos, shedPhotos } from './requests'
import type { Answer } from './sending'
import { filesIn, ZipProblem } from './zip'

export type PhotosReadIn =
  | { readonly kind: 'photos'; readonly kept: number; readonly already: number; readonly refused: number }
  /** No file of photos, or not whole. */
  | { readonly kind: 'malformed' }
  /** So many came there before the shed could take no more, for the reason it gave or because it was out of reach. */
  | { readonly kind: 'broke'; readonly came: number; readonly of: number; readonly code: string }

const piece = 512 << 10
/** Milliseconds for a piece. */
const patience = 45_000

/** Refusals after which no other photo would be taken either. */
const general = new Set(['crowded', 'full', 'role', 'join', 'withdrawn'])

export async function readInPhotos(zip: Blob, shed: ShedPhotos = shedPhotos()): Promise<PhotosReadIn> {
  const files = await filesIn(zip).catch((reason: unknown) => {
    if (reason instanceof ZipProblem) return undefined
    throw reason
  })
  if (!files) return { kind: 'malformed' }
  const outcomes = { kept: 0, already: 0, refused: 0 }
  for (const file of files) {
    const outcome = await bring(new Uint8Array(await file.arrayBuffer()), shed)
    if (typeof outcome === 'object') return { kind: 'broke', came: outcomes.kept + outcomes.already, of: files.length, code: outcome.code }
    outcomes[outcome]++
  }
  return { kind: 'photos', ...outcomes }
}

type Brought = 'kept' | 'already' | 'refused' | { readonly code: string }

async function bring(bytes: Bytes, shed: ShedPhotos): Promise<Brought> {
  try {
    const hash = await digest(bytes)
    let answer = await shed.head(hash, AbortSignal.timeout(patience))
    if (answer.kind === 'has' && answer.whole) return 'already'
    if (answer.kind === 'has' && answer.length !== bytes.length) answer = { ...answer, offset: 0 } // announced otherwise, it begins anew
    while (answer.kind === 'has' && !answer.whole) answer = await pieceOf(hash, bytes, answer.offset, shed)
    return outcomeOf(answer)
  } catch (reason) {
    console.error('bringing a photo of a saved file to the shed', reason)
    return { code: '' }
  }
}

/** Each piece has to bring it further, or it would never end. */
async function pieceOf(hash: PhotoHash, bytes: Bytes, offset: number, shed: ShedPhotos): Promise<Answer> {
  const answer = await shed.piece(hash, bytes.length, offset, bytes.subarray(offset, offset + piece), AbortSignal.timeout(patience))
  if (answer.kind === 'has' && !answer.whole && answer.offset <= offset) throw new Error(`the shed stays at byte ${offset} of a photo`)
  return answer
}

function outcomeOf(answer: Answer): Brought {
  if (answer.kind === 'has') return 'kept'
  if (answer.kind !== 'refused') return { code: '' }
  // 409: another phone brings the same photo just now.
  return general.has(answer.code) || answer.status >= 500 || answer.status === 409 ? { code: answer.code } : 'refused'
}
