// The corrections of a count cell: which are one, which no other has seen, what they come to. Mirrors
// internal/changelog/correction.go.

import { afterOf, factsOf, firstIdentity, formerOf, identityOf, splitIdentity } from './identity'
import type { Entry } from './state'

/** The corrections of a cell by the identities that others name them by. */
export type Names = ReadonlyMap<string, Entry>

/**
 * Of a cell's corrections, the newest first, each once: one that was sent again is the same correction;
 * two of one former identity that say otherwise, of copies of a phone, are two.
 */
export function correctionsIn(corrections: readonly Entry[]): readonly Entry[] {
  if (corrections.length < 2) return corrections
  const said = new Set<string>()
  return corrections.filter(entry => {
    const saying = `${firstOf(entry)}\n${factsIn(entry)}`
    const again = said.has(saying)
    said.add(saying)
    return !again
  })
}

function factsIn({ value, extra }: Entry): string {
  const nothing = { incarnation: '', seq: 0, stamp: { l: 0, c: 0 }, rest: 0, person: '', scope: 'field', op: 'correct', type: '', id: '', field: '' } as const
  return factsOf({ ...nothing, value, extra: extra ?? {} })
}

/** The identity under which it was first framed. */
function firstOf(e: Entry): string {
  return splitIdentity(formerOf(e)) ? firstIdentity(e) : identity(e)
}

function identity(e: Entry): string {
  return identityOf(e.incarnation, e.seq)
}

/** Names each correction by its own identity, and by its former one unless another bears that. */
export function namesOf(corrections: readonly Entry[]): Names {
  const names = new Map(corrections.map(entry => [identity(entry), entry]))
  for (const entry of corrections) {
    const first = firstOf(entry)
    if (!names.has(first)) names.set(first, entry)
  }
  return names
}

/**
 * How a further correction names one: by the identity under which it was first framed, if that names it
 * alone. What a phone sends again may turn out to be held already, and then its new identity never exists.
 */
export function nameOf(e: Entry, names: Names): string {
  const first = firstOf(e)
  return names.get(first) === e ? first : identity(e)
}

/** Corrections that claim to have seen each other in a ring leave no tip: then the newest stands. */
export function tipsOf(corrections: readonly Entry[], names: Names): readonly Entry[] {
  const seen = new Set(corrections.flatMap(afterOf).map(name => names.get(name)))
  const tips = corrections.filter(entry => !seen.has(entry))
  return tips.length > 0 ? tips : corrections.slice(0, 1)
}

/** Sums a correction and those that it followed, each the first that the later one had seen. */
export function lineOf(tip: Entry, names: Names): number {
  const passed = new Set<Entry>()
  let total = 0
  for (let at: Entry | undefined = tip; at && !passed.has(at); at = names.get(afterOf(at)[0] ?? '')) {
    passed.add(at) // a line that meets itself ends
    total += numberIn(at)
  }
  return total
}

export function numberIn(e: Entry): number {
  return typeof e.value === 'number' ? e.value : 0
}
