// What of photos is asked of the shed over HTTP (server/httpapi, photos.go and upload.go). Whatever is no
// answer of a shed rejects.

import type { PhotoHash } from '../crop/nouns'
import type { Bytes } from './photo_db'
import type { Answer } from './sending'

/** A picture from the shed; 'not_here': it has not come there yet; 'removed': an owner deleted it for good. */
export type Fetched = { readonly kind: 'here'; readonly bytes: Bytes } | { readonly kind: 'not_here' | 'removed' | 'out_of_reach' }

/**
 * What became of deleting a picture at the shed. 'role': only an owner may; 'join': the shed does not let this
 * device in; 'failed': the shed is in trouble, and it may be there still; 'out_of_reach': no shed answered.
 */
export type Removal = 'removed' | 'role' | 'join' | 'failed' | 'out_of_reach'

export interface ShedPhotos {
  missing(hashes: readonly PhotoHash[], signal: AbortSignal): Promise<Answer>
  head(hash: PhotoHash, signal: AbortSignal): Promise<Answer>
  piece(hash: PhotoHash, size: number, offset: number, piece: Bytes, signal: AbortSignal): Promise<Answer>
  small(hash: PhotoHash, signal: AbortSignal): Promise<Fetched>
  full(hash: PhotoHash, signal: AbortSignal): Promise<Fetched>
  remove(hash: PhotoHash, signal: AbortSignal): Promise<Removal>
}

/** The photos of the shed at an origin; the page's own where it is ''. */
export function shedPhotos(origin = ''): ShedPhotos {
  const at = (path: string) => `${origin}/api/photos/${path}`
  return {
    async missing(hashes, signal) {
      const headers = { 'content-type': 'application/json' }
      const answer = await fetch(at('missing'), { method: 'POST', headers, body: JSON.stringify(hashes), signal })
      return answer.ok ? missingOf(await answer.json()) : refusalOf(answer)
    },
    async head(hash, signal) {
      return stateOf(await fetch(at(`${hash}/upload`), { method: 'HEAD', signal }))
    },
    async piece(hash, size, offset, piece, signal) {
      const headers = { 'content-type': 'application/partial-upload', 'upload-offset': String(offset), 'upload-length': String(size) }
      return stateOf(await fetch(at(`${hash}/upload`), { method: 'PATCH', headers, body: piece, signal }))
    },
    small: (hash, signal) => picture(at(`${hash}/small`), signal),
    full: (hash, signal) => picture(at(hash), signal),
    async remove(hash, signal) {
      const answer = await fetch(at(hash), { method: 'DELETE', signal })
      return answer.status === 204 ? 'removed' : removalOf(codeOf(await answer.text()))
    },
  }
}

function missingOf(answer: unknown): Answer {
  const { missing } = answer as { missing?: unknown }
  if (!Array.isArray(missing)) throw new Error('the shed did not say which photos it lacks')
  return { kind: 'missing', hashes: missing as PhotoHash[] }
}

/** Upload-Complete in a refusal speaks of the refusal. */
async function stateOf(answer: Response): Promise<Answer> {
  const offset = numberIn(answer, 'upload-offset')
  if (!answer.ok) return refusalOf(answer)
  if (offset === undefined) throw new Error(`something else than a shed answered ${answer.status}`)
  const whole = answer.headers.get('upload-complete') === '?1'
  return { kind: 'has', offset, whole, length: numberIn(answer, 'upload-length') ?? 0 }
}

async function refusalOf(answer: Response): Promise<Answer> {
  const limit = /\bmax-size=(\d+)/.exec(answer.headers.get('upload-limit') ?? '')?.[1]
  return {
    kind: 'refused', status: answer.status, code: codeOf(await answer.text()),
    offset: numberIn(answer, 'upload-offset'), limit: limit === undefined ? undefined : Number(limit),
  }
}

/** Whatever is no answer of a shed says nothing of the picture. */
function removalOf(code: string): Removal {
  if (code === '') return 'out_of_reach'
  if (code === 'role') return 'role'
  return code === 'join' || code === 'withdrawn' ? 'join' : 'failed'
}

/** '' where it is no refusal of a shed's own. */
function codeOf(text: string): string {
  try {
    const { error } = JSON.parse(text) as { error?: { code?: unknown } }
    return typeof error?.code === 'string' ? error.code : ''
  } catch {
    return ''
  }
}

function numberIn(answer: Response, header: string): number | undefined {
  const text = answer.headers.get(header) ?? ''
  return /^\d{1,15}$/.test(text) ? Number(text) : undefined
}

async function picture(address: string, signal: AbortSignal): Promise<Fetched> {
  const answer = await fetch(address, { signal })
  if (answer.ok) return { kind: 'here', bytes: new Uint8Array(await answer.arrayBuffer()) }
  const code = codeOf(await answer.text())
  if (answer.status === 410 && code === 'removed') return { kind: 'removed' }
  return { kind: answer.status === 404 && code === 'not_here' ? 'not_here' : 'out_of_reach' }
}
