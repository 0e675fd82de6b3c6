// What a count cell comes to: writers summed, corrections followed. Mirrors
// internal/changelog/count.go.

import type { Op } from './change'
import { correctionsIn, lineOf, nameOf, namesOf, numberIn, tipsOf } from './correction'
import { formerOf, splitIdentity } from './identity'
import { compareStamps } from './order'
import type { Entity, Entry } from './state'
import { compareEntries } from './state'

export interface CellCount {
  /** The sum over the cell's writers, corrected. Below zero it wants a look. */
  readonly total: number
  /**
   * The corrections that no later one has seen, the standing one first. A further correction names them
   * all.
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
  const corrections = correctionsIn(entriesOf(e, 'correct', cell))
  const names = namesOf(corrections)
  const tips = tipsOf(corrections, names)
  const line = tips[0] ? lineOf(tips[0], names) : 0
  const twice = uncorrected(doubled, corrections)
  return { total: total + line, tips: tips.map(tip => nameOf(tip, names)), missed: tips.length > 1, twice }
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

/** The counts of a cell that add up, each writer once, and its corrections, each once; the newest first. */
export function standingIn(e: Entity, cell: string): { readonly counts: readonly Entry[]; readonly corrections: readonly Entry[] } {
  return { counts: written(entriesOf(e, 'count', cell)).counted, corrections: correctionsIn(entriesOf(e, 'correct', cell)) }
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
function written(entries: readonly Entry[]): { total: number; counted: readonly Entry[]; doubled: readonly Entry[] } {
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
  return { total, counted: [...counted.values()], doubled }
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
