// Asking the shed over HTTP: one request, and an answer that is what it should be, a refusal, or none.

import { numberOf, ShapeError, textOf } from '../log/canonical'

export type Answer<T> = { readonly kind: 'ok'; readonly value: T } | Refused | { readonly kind: 'unreachable' }

export interface Refused {
  readonly kind: 'refused'
  /** '' where the shed gave none. */
  readonly code: string
  /** The shed's own word, in English, for whoever looks after it. */
  readonly text: string
  /** Seconds after which trying again makes sense; 0 where it was not told. */
  readonly wait: number
  /** The shed lets any device in without a code, as the made-up farm's does on its own desk. */
  readonly open: boolean
}

export type Fields = Readonly<Record<string, unknown>>

/** Milliseconds after which the shed is taken not to answer. */
const patience = 10_000

export async function ask<T>(method: 'GET' | 'POST' | 'DELETE', path: string, read: (answer: Fields) => T, body?: unknown): Promise<Answer<T>> {
  try {
    const sent = body === undefined ? {} : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } }
    const answer = await fetch(path, { method, ...sent, signal: AbortSignal.timeout(patience) })
    const said = fieldsOf(await answer.text())
    return answer.ok ? { kind: 'ok', value: read(said) } : refusedOf(said, answer.headers.get('retry-after'))
  } catch (reason) {
    // No network, or something else answers at this address: for a person that is the same.
    console.error(`asking the shed, ${method} ${path}`, reason)
    return { kind: 'unreachable' }
  }
}

/** Nothing may be said where a request is only carried out. */
function fieldsOf(text: string): Fields {
  return text.trim() === '' ? {} : recordOf(JSON.parse(text))
}

export function refusedOf(said: Fields, retryAfter: string | null): Refused {
  const error = said['error'] === undefined ? {} : recordOf(said['error'])
  return {
    kind: 'refused', code: optionalText(error['code']), text: optionalText(error['text']),
    wait: Math.max(0, Math.ceil(Number(retryAfter ?? 0)) || 0), open: said['open'] === true,
  }
}

export function recordOf(part: unknown): Fields {
  if (typeof part !== 'object' || part === null || Array.isArray(part)) throw new ShapeError('a part that should be an object is not')
  return part as Fields
}

/** An empty list may be left out, or come as null, as Go writes a nil slice. */
export function listOf<T>(part: unknown, read: (item: unknown) => T): T[] {
  if (part === null || part === undefined) return []
  if (!Array.isArray(part)) throw new ShapeError('a part that should be a list is not')
  return part.map(read)
}

export function optionalText(part: unknown): string {
  return part === null || part === undefined ? '' : textOf(part)
}

/** RFC 3339 as ms since 1970; 0 for never. */
export function momentOf(part: unknown): number {
  const text = optionalText(part)
  if (text === '') return 0
  const ms = Date.parse(text)
  if (Number.isNaN(ms)) throw new ShapeError(`${text.slice(0, 40)} is no moment`)
  return ms
}

export function optionalNumber(part: unknown): number | undefined {
  return part === null || part === undefined ? undefined : numberOf(part)
}
