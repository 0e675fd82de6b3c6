// Two cuts recorded at one plant on one day may be one that two people, or two phones, both wrote
// down. They count together until somebody says that one is a repeat.

import type { Fact } from '../log/change'
import { besideFacts } from './facts'
import type { Day, PlantID, Visit, VisitID } from './nouns'

/** Names a plant's day among `farm.repeats`. */
export function repeatKey(plant: PlantID, day: Day): string {
  return `${day} ${plant}`
}

/** Takes a name of `repeatKey` apart. */
export function repeatOf(key: string): { readonly plant: PlantID; readonly day: Day } {
  return { day: key.slice(0, 10) as Day, plant: key.slice(11) as PlantID }
}

/**
 * Of visits to one plant on one day, the cuts of which one may be a repeat: both hold stems, and
 * neither names the other in `beside`. Sorted by id.
 */
export function repeatsAmong(visits: readonly Visit[]): readonly VisitID[] {
  const cuts = visits.filter(({ purpose, counts }) => purpose === 'cut' && counts.some(({ stems }) => stems > 0))
  if (cuts.length < 2) return none
  const asked = cuts.filter((one) => cuts.some((other) => other !== one && !areBeside(one, other)))
  return asked.map(({ id }) => id).sort()
}

const none: readonly VisitID[] = []

function areBeside(a: Visit, b: Visit): boolean {
  return a.beside.includes(b.id) || b.beside.includes(a.id)
}

/** Says that none of these visits is a repeat, each naming those before it; or takes that back. */
export function noRepeats(oldestFirst: readonly VisitID[], on = true): Fact[] {
  return oldestFirst.flatMap((visit, i) => besideFacts(visit, oldestFirst.slice(0, i), on))
}

/** What asks at all plants, kept up to date by looking at the visits of one plant at a time. */
export class Repeats {
  /** By `repeatKey`. */
  readonly found = new Map<string, readonly VisitID[]>()
  private readonly keysOf = new Map<PlantID, readonly string[]>()
  private readonly touched = new Set<PlantID>()

  /** A visit to the plant came, went or changed. */
  touch(plant: PlantID): void {
    this.touched.add(plant)
  }

  /** Looks at the plants touched since the last time. */
  settle(visitsOf: (plant: PlantID) => Iterable<Visit>): void {
    for (const plant of this.touched) this.look(plant, visitsOf(plant))
    this.touched.clear()
  }

  clear(): void {
    this.found.clear()
    this.keysOf.clear()
    this.touched.clear()
  }

  private look(plant: PlantID, visits: Iterable<Visit>): void {
    for (const key of this.keysOf.get(plant) ?? []) this.found.delete(key)
    const keys: string[] = []
    for (const [day, ofDay] of byDay(visits)) {
      const repeats = ofDay.length < 2 ? none : repeatsAmong(ofDay)
      if (repeats.length === 0) continue
      keys.push(repeatKey(plant, day))
      this.found.set(repeatKey(plant, day), repeats)
    }
    if (keys.length > 0) this.keysOf.set(plant, keys)
    else this.keysOf.delete(plant)
  }
}

function byDay(visits: Iterable<Visit>): ReadonlyMap<Day, Visit[]> {
  const days = new Map<Day, Visit[]>()
  for (const visit of visits) {
    if (visit.purpose !== 'cut') continue
    const ofDay = days.get(visit.date)
    if (ofDay) ofDay.push(visit)
    else days.set(visit.date, [visit])
  }
  return days
}
