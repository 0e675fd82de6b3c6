// The identity of a change among all changes of a farm: "incarnation:seq". Mirrors
// syncproto/change.go.

import type { Change, Fact } from './change'

/** Names in a change's extra. */
export const extraSaw = 'saw'
export const extraAfter = 'after'
export const extraFormer = 'former'

export function identityOf(incarnation: string, seq: number): string {
  return `${incarnation}:${seq}`
}

/** Takes an identity apart; undefined where it is none. */
export function splitIdentity(identity: string): { incarnation: string; seq: number } | undefined {
  const match = /^([^:]+):(\d+)$/.exec(identity)
  const seq = Number(match?.[2])
  return match && Number.isSafeInteger(seq) && seq >= 1 ? { incarnation: match[1]!, seq } : undefined
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

/** The change as it was under its former identity: same facts, old incarnation and seq. */
export function originalOf(c: Change): Change | undefined {
  const former = splitIdentity(formerOf(c))
  if (!former) return undefined
  const { extra, ...rest } = c
  const others = Object.entries(extra ?? {}).filter(([name]) => name !== extraFormer)
  return { ...rest, ...former, ...(others.length > 0 && { extra: Object.fromEntries(others) }) }
}
