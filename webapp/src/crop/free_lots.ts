// Stems of the lots that no promise needs: they can be offered to somebody else.

import { Assignment } from './assignment'
import { daysLeft } from './cooler'
import { type FreshLot, sellableOn } from './fresh_lots'
import type { LineNeed } from './line_needs'
import { colourKinds, lotsFor } from './lots_for'
import { type Day, gradesHighToLow } from './nouns'
import type { Sales } from './sale_nouns'

/**
 * What may be taken of each lot on each of some days so that the lines still get as many stems, and as many of the
 * colours that they asked for. Lines are served in stages, from the lots that are past on the day, then from the
 * plainest, so that the better stays free: a further stage never gives back a stem that an earlier one took (see
 * Assignment).
 */
export function freeOn(sales: Sales, needs: readonly LineNeed[], lots: readonly FreshLot[], days: readonly Day[]): number[][] {
  const asked = alike(needs)
  const takes = colourKinds.map((colours) => asked.map((need) => new Set(lotsFor(sales, need, lots, colours))))
  return days.map((day) => {
    const serving = new Assignment(lots.map(({ left }) => left), asked.map(({ stems }) => stems))
    const stages = stagesOf(sales, lots, day)
    for (const ofKind of takes) {
      for (const stage of stages) serveFrom(serving, stage, ofKind)
    }
    return lots.map((lot, i) => (sellableOn(sales, lot.id, day) ? serving.left[i]! : 0))
  })
}

function serveFrom(serving: Assignment, stage: readonly number[], takes: readonly ReadonlySet<number>[]): void {
  takes.forEach((some, i) => {
    const more = stage.filter((lot) => some.has(lot))
    if (more.length > 0) serving.allow(i, more)
  })
  takes.forEach((_, i) => { serving.serve(i) })
}

/** Lines that take the same stems on the same day are one: hundreds of standing orders ask for a few kinds. */
function alike(needs: readonly LineNeed[]): LineNeed[] {
  const found = new Map<string, LineNeed>()
  for (const need of needs) {
    const key = [need.on, need.grade, need.length, [...need.colours].sort(), [...need.instead].sort()].join('|')
    found.set(key, { ...need, stems: need.stems + (found.get(key)?.stems ?? 0) })
  }
  return [...found.values()]
}

/** The places of the lots, those first that are taken first; within a stage the oldest come first, as they do in the cooler. */
function stagesOf(sales: Sales, lots: readonly FreshLot[], day: Day): number[][] {
  const found = new Map<number, number[]>()
  lots.forEach(({ id }, i) => {
    const past = daysLeft(sales.terms, id.cut, day) < 0
    const stage = past ? -1 : plainness(id.grade) * 1_000_000 + id.length.lo
    found.set(stage, [...found.get(stage) ?? [], i])
  })
  return [...found].sort(([a], [b]) => a - b).map(([, places]) => places)
}

/** 0 for what was not told, up to the best. */
function plainness(grade: FreshLot['id']['grade']): number {
  return grade === '' ? 0 : gradesHighToLow.length - gradesHighToLow.indexOf(grade)
}
