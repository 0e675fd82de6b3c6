// Reading in at the shed a file of unsent changes that a phone saved (unsent.ts).

/** What became of a file. */
export type ReadIn =
  | { readonly kind: 'taken'; readonly kept: number; readonly already: number; readonly refused: readonly RefusedEntries[] }
  /** The shed took in nothing, or not all; text is its own word, in English, for whoever looks after it. */
  | { readonly kind: 'refused'; readonly code: string; readonly text: string }
  | { readonly kind: 'unreachable' }

/** How many entries were refused for a reason (PROTOCOL.md, section 5). */
export interface RefusedEntries {
  readonly code: string
  readonly n: number
}

/** A season's changes over a slow network. */
const patience = 120_000

/** Sends a file to the shed at the origin, byte for byte; the page's own where it is ''. */
export async function readIn(file: Blob | string, origin = ''): Promise<ReadIn> {
  try {
    const headers = { 'content-type': 'application/jsonl' }
    const answer = await fetch(`${origin}/api/unsent`, { method: 'POST', headers, body: file, signal: AbortSignal.timeout(patience) })
    return outcomeOf(await answer.json(), answer.ok)
  } catch (reason) {
    console.error('sending a saved file to the shed', reason)
    return { kind: 'unreachable' }
  }
}

function outcomeOf(answer: unknown, ok: boolean): ReadIn {
  const { kept, already, refused, error } = answer as Partial<Record<'kept' | 'already' | 'refused' | 'error', unknown>>
  if (ok && typeof kept === 'number' && typeof already === 'number') {
    return { kind: 'taken', kept, already, refused: byReason(Array.isArray(refused) ? refused : []) }
  }
  const { code, text } = (error ?? {}) as Partial<Record<'code' | 'text', unknown>>
  return { kind: 'refused', code: typeof code === 'string' ? code : '', text: typeof text === 'string' ? text : '' }
}

function byReason(refused: readonly unknown[]): RefusedEntries[] {
  const counts = new Map<string, number>()
  for (const one of refused) {
    const { code } = (one ?? {}) as { code?: unknown }
    const reason = typeof code === 'string' ? code : ''
    counts.set(reason, (counts.get(reason) ?? 0) + 1)
  }
  return [...counts].map(([code, n]) => ({ code, n }))
}
