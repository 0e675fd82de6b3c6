// What a count cell comes to: writers summed, corrections followed. Mirrors
// internal/changelog/count.go.

import type { Op } from './change'
import { afterOf, firstIdentity, formerOf, identityOf, splitIdentity } from './identity'
import { compareStamps } from './order'
import type { Entity, Entry } from './state'
import { compareEntries } from './state'

export interface CellCount {
  /** The sum over the cell's writers, corrected. Below zero it wants a look. */
  readonly total: number
  /**
   * The corrections that no later one has seen, the standing one first. A further correction names them
   * all, by the identity under which each was first framed: what a phone sends again may turn out to be
   * held already, and then its new identity never exists.
   */
  readonly tips: readonly string[]
  /** Corrections were made that had not seen each other; only the newest's line counts. */
  readonly missed: boolean
  /**
   * One writer's cell is held under two incarnations and nobody has corrected the cell since; the
   * newer one counts.
   */
  readonly twice: boolean
}

export function count(e: Entity, cell: string): CellCount {
  const { total, doubled } = written(entriesOf(e, 'count', cell))
  const corrections = correctionsOf(e, cell)
  const tips = tipsOf(corrections)
  const line = tips[0] ? lineOf(tips[0], corrections) : 0
  const twice = uncorrected(doubled, corrections)
  return { total: total + line, tips: tips.map(firstIdentity), missed: tips.length > 1, twice }
}

/**
 * What a phone itself has counted in the cell, to count on from: where its entry stands for earlier
 * incarnations' too, the greatest of them.
 */
export function ownCount(e: Entity, cell: string, incarnation: string): number {
  const entries = entriesOf(e, 'count', cell)
  if (!entries.some(entry => entry.incarnation === incarnation)) return 0
  const writers = writersOf(entries)
  const writer = writers.get(incarnation)
  return numberIn(entries.find(entry => writers.get(entry.incarnation) === writer)!)
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
 * Sums the writers of a cell. One writer under several incarnations is one: the newest counts, and
 * is listed as doubled.
 */
function written(entries: readonly Entry[]): { total: number; doubled: readonly Entry[] } {
  const writers = writersOf(entries)
  const counted = new Map<string, Entry>()
  const doubled: Entry[] = []
  let total = 0
  for (const entry of entries) {
    const writer = writers.get(entry.incarnation)!
    const newest = counted.get(writer)
    if (newest) {
      doubled.push(newest)
      continue
    }
    counted.set(writer, entry)
    total += numberIn(entry)
  }
  return { total, doubled }
}

/**
 * Tells whether an entry has no correction above it. Whoever corrects the cell has looked, also where
 * the correction is 0 because the number is right.
 */
function uncorrected(entries: readonly Entry[], corrections: readonly Entry[]): boolean {
  const newest = corrections[0]
  return entries.some(({ order }) => !newest || compareStamps(newest.order, order) <= 0)
}

/**
 * Follows the incarnation of each entry to the first that it is known to have been. Incarnations that
 * name each other in a ring are the one with the smallest id.
 */
function writersOf(entries: readonly Entry[]): ReadonlyMap<string, string> {
  const formers = new Map(entries.map(entry => [entry.incarnation, formerIncarnation(entry)]))
  const writers = new Map<string, string>()
  for (const incarnation of formers.keys()) {
    const { passed, writer } = pathToWriter(incarnation, formers, writers)
    for (const one of passed) writers.set(one, writer)
  }
  return writers
}

/** The incarnations on the way whose writer was not known yet, and the writer. */
function pathToWriter(
  incarnation: string, formers: ReadonlyMap<string, string | undefined>, known: ReadonlyMap<string, string>,
): { passed: ReadonlySet<string>; writer: string } {
  const passed = new Set<string>()
  let last = incarnation
  for (let at: string | undefined = incarnation; at !== undefined; at = formers.get(at)) {
    const writer = known.get(at)
    if (writer !== undefined) return { passed, writer }
    if (passed.has(at)) return { passed, writer: leastFrom(at, passed) }
    passed.add(at)
    last = at
  }
  return { passed, writer: last }
}

/** The smallest id of a ring: of what was passed from there on. */
function leastFrom(start: string, passed: ReadonlySet<string>): string {
  const all = [...passed]
  return all.slice(all.indexOf(start)).reduce((least, one) => (one < least ? one : least))
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
