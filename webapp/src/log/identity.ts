// The identity of a change among all changes of a farm: "incarnation:seq". Mirrors
// syncproto/change.go.

import { textLength } from './bytes'
import { canonical } from './canonical'
import type { Change, Fact } from './change'

/** Names in a change's extra. */
export const extraSaw = 'saw'
export const extraAfter = 'after'
export const extraFormer = 'former'

export function identityOf(incarnation: string, seq: number): string {
  return `${incarnation}:${seq}`
}

const maxIdentityBytes = 128

/** Takes an identity apart; undefined where it is none. */
export function splitIdentity(identity: string): { incarnation: string; seq: number } | undefined {
  const match = /^([^:]+):(\d+)$/.exec(identity)
  const seq = Number(match?.[2])
  return match && textLength(identity) <= maxIdentityBytes && Number.isSafeInteger(seq) && seq >= 1 ? { incarnation: match[1]!, seq } : undefined
}

/** The identity under which this was sent before, or ''. */
export function formerOf(f: Pick<Fact, 'extra'>): string {
  const former = f.extra?.[extraFormer]
  return typeof former === 'string' ? former : ''
}

/** The corrections that a correction had seen, the one it followed first. */
export function afterOf(f: Pick<Fact, 'extra'>): readonly string[] {
  const after = f.extra?.[extraAfter]
  return Array.isArray(after) ? (after as readonly string[]) : []
}

/** The identity under which a change was first framed. */
export function firstIdentity(c: Pick<Change, 'incarnation' | 'seq' | 'extra'>): string {
  return formerOf(c) || identityOf(c.incarnation, c.seq)
}

/**
 * What a change says, without the identities under which it was sent: two changes of the same facts
 * are the same record, sent twice.
 */
export function factsOf(c: Change): string {
  const { extra, ...said } = c
  const others = Object.entries(extra ?? {}).filter(([name]) => name !== extraFormer)
  return canonical({ ...said, incarnation: '', seq: 0, ...(others.length > 0 && { extra: Object.fromEntries(others) }) })
}
