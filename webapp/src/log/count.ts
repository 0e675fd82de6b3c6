// What a count cell comes to: writers summed, corrections followed. Mirrors
// internal/changelog/count.go.

import type { Op } from './change'
import { afterOf, formerOf, identityOf, splitIdentity } from './identity'
import type { Entity, Entry } from './state'
import { compareEntries } from './state'

export interface CellCount {
  /** The sum over the cell's writers, corrected. Below zero it wants a look. */
  readonly total: number
  /** The corrections that no later one has seen, the standing one first. */
  readonly tips: readonly string[]
  /** Corrections were made that had not seen each other; only the newest's line counts. */
  readonly missed: boolean
  /** One writer's cell is held under two incarnations; the newer one counts. */
  readonly twice: boolean
}

export function count(e: Entity, cell: string): CellCount {
  const { total, twice } = written(entriesOf(e, 'count', cell))
  const corrections = correctionsOf(e, cell)
  const tips = tipsOf(corrections)
  const line = tips[0] ? lineOf(tips[0], corrections) : 0
  return { total: total + line, tips: tips.map(identity), missed: tips.length > 1, twice }
}

/** What one incarnation itself wrote in the cell. */
export function writtenBy(e: Entity, cell: string, incarnation: string): Entry | undefined {
  return entriesOf(e, 'count', cell).find(entry => entry.incarnation === incarnation)
}

function identity(e: Entry): string {
  return identityOf(e.incarnation, e.seq)
}

/** The standing entries of one op in one field, the newest first. */
function entriesOf(e: Entity, op: Op, field: string): Entry[] {
  const found: Entry[] = []
  for (const { key, entry } of e.slots.values()) {
    if (key.op === op && key.field === field) found.push(entry)
  }
  return found.length > 1 ? found.sort((a, b) => compareEntries(b, a)) : found
}

/**
 * Sums the writers of a cell. An entry that names its former identity is the same writer as the
 * incarnation it was sent under before.
 */
function written(entries: readonly Entry[]): { total: number; twice: boolean } {
  let total = 0
  let twice = false
  for (const entry of entries) {
    const newer = entries.find(other => formerIncarnation(other) === entry.incarnation)
    if (newer) twice = true
    const former = formerIncarnation(entry)
    const older = entries.find(other => other.incarnation === former)
    const beaten = [newer, older].some(other => other && compareEntries(other, entry) > 0)
    if (!beaten) total += numberIn(entry)
  }
  return { total, twice }
}

function formerIncarnation(e: Entry): string | undefined {
  return splitIdentity(formerOf(e))?.incarnation
}

function numberIn(e: Entry): number {
  return typeof e.value === 'number' ? e.value : 0
}

/** A cell's corrections, the newest first; one sent again replaces the one that it names. */
function correctionsOf(e: Entity, cell: string): Entry[] {
  const all = entriesOf(e, 'correct', cell)
  const again = new Set(all.map(formerOf))
  return all.filter(entry => !again.has(identity(entry)))
}

/** Corrections that claim to have seen each other in a ring leave no tip: then the newest stands. */
function tipsOf(corrections: readonly Entry[]): readonly Entry[] {
  const seen = new Set(corrections.flatMap(afterOf))
  const tips = corrections.filter(entry => !seen.has(identity(entry)) && !seen.has(formerOf(entry)))
  return tips.length > 0 ? tips : corrections.slice(0, 1)
}

/** Sums a correction and those that it followed, each the first that the later one had seen. */
function lineOf(tip: Entry, corrections: readonly Entry[]): number {
  const known = new Map<string, Entry>()
  for (const entry of corrections) {
    known.set(identity(entry), entry)
    if (formerOf(entry)) known.set(formerOf(entry), entry)
  }
  let total = 0
  for (let at: Entry | undefined = tip; at; ) {
    total += numberIn(at)
    known.delete(identity(at)) // a line that bites its own tail ends here
    known.delete(formerOf(at))
    at = known.get(afterOf(at)[0] ?? '')
  }
  return total
}
