// The counting plan: how many plants of each age to count, in which plantings, and which. Strata are the
// plantings, each in its bed with its age. Colour classes are none: they share one estimate and so its
// strength, and get what falls to them along the bed.

import { ageIn } from '../crop/season'
import type { BedID, ColourID, Day, Farm, Plant, Planting, Season } from '../crop/nouns'
import { inWalkOrder } from '../crop/walk_order'
import { bedsByName } from './bed'
import { chooseSpread } from './choose'
import { type Halves, halfOf, type PlanAge, type PlanTable, plantsFor } from './plan_table'
import { stands } from './stems'

export interface Stratum {
  readonly planting: Planting
  readonly age: number
  /** In walk order. */
  readonly counted: readonly Plant[]
  readonly uncounted: readonly Plant[]
}

/** The plantings of a species whose plants are in the ground in a season, by bed. */
export function strataOf(farm: Farm, species: string, season: Season, day: Day): Stratum[] {
  const plants = new Map<string, Plant[]>()
  for (const plant of farm.plants.values()) {
    if (!stands(plant.removed, day)) continue
    const beside = plants.get(plant.planting)
    if (beside) beside.push(plant)
    else plants.set(plant.planting, [plant])
  }
  const place = new Map<BedID, number>(bedsByName(farm).map((bed, i) => [bed.id, i]))
  const at = (planting: Planting) => place.get(planting.bed) ?? place.size
  return [...farm.plantings.values()]
    .filter((one) => farm.stocks.get(one.stock)?.species === species && ageIn(one, season) >= 1 && plants.has(one.id))
    .sort((a, b) => at(a) - at(b) || a.firstSeason - b.firstSeason || (a.id < b.id ? -1 : 1))
    .map((planting) => {
      const standing = inWalkOrder(plants.get(planting.id) ?? [])
      return {
        planting, age: ageIn(planting, season),
        counted: standing.filter((plant) => plant.counted.has(season)), uncounted: standing.filter((plant) => !plant.counted.has(season)),
      }
    })
}

/** An age with its plants and what the shed expects of counting them. */
export interface AgeInGround {
  readonly age: number
  readonly standing: number
  readonly counted: number
  readonly expected: PlanAge
}

/** An age with the number of plants planned, and the half-width that they keep to. */
export interface AgePlan extends AgeInGround {
  readonly planned: number
  readonly half: number
}

/** The ages in the ground, those left out that the table does not know yet. */
export function agesInGround(table: PlanTable, strata: readonly Stratum[]): AgeInGround[] {
  return table.ages.flatMap((expected) => {
    const own = strata.filter((one) => one.age === expected.age)
    const counted = own.reduce((n, one) => n + one.counted.length, 0)
    const standing = own.reduce((n, one) => n + one.uncounted.length, counted)
    return standing === 0 ? [] : [{ age: expected.age, standing, counted, expected }]
  })
}

/**
 * Plants to count of each age where so many can be counted in all: each goes to the age that would
 * otherwise be known least precisely, so that the worst comes out as precise as it can. What is counted
 * already stays.
 */
export function spreadOver(table: PlanTable, ages: readonly AgeInGround[], plants: number, assurance: number): number[] {
  const chosen = ages.map((age) => age.counted)
  const half = (i: number) => halfOf(table, ages[i]!.expected.half, chosen[i]!, ages[i]!.standing, assurance)
  const halves = ages.map((_, i) => half(i))
  for (let left = plants - total(chosen); left > 0; left--) {
    const worst = widest(halves, chosen)
    if (worst === undefined || halves[worst] === 0) break // all are counted
    chosen[worst]!++
    halves[worst] = half(worst)
  }
  return chosen
}

/** The widest; of those without end, as from no plant or one, the one with fewer plants. */
function widest(halves: readonly number[], chosen: readonly number[]): number | undefined {
  let found: number | undefined
  for (const [i, half] of halves.entries()) {
    if (found === undefined || half > halves[found]! || (half === halves[found] && chosen[i]! < chosen[found]!)) found = i
  }
  return found
}

/** Plants to count of each age for a half-width with an assurance; what is counted already stays. */
export function enoughFor(table: PlanTable, ages: readonly AgeInGround[], half: number, assurance: number): number[] {
  return ages.map((age) => Math.max(age.counted, plantsFor(table, age.expected.half, half, age.standing, assurance)))
}

/** Plants to choose besides in each stratum so that its age has the number wanted: the next always where
 *  the smallest share is counted, so that each has its share and none is left out. */
export function addedIn(strata: readonly Stratum[], wanted: ReadonlyMap<number, number>): number[] {
  const added = strata.map(() => 0)
  const share = (i: number) => (strata[i]!.counted.length + added[i]!) / (strata[i]!.counted.length + strata[i]!.uncounted.length)
  for (const [age, plants] of wanted) {
    const own = [...strata.keys()].filter((i) => strata[i]!.age === age)
    for (let left = plants - total(own.map((i) => strata[i]!.counted.length)); left > 0; left--) {
      const next = own.filter((i) => added[i]! < strata[i]!.uncounted.length).reduce<number | undefined>(
        (thin, i) => (thin === undefined || share(i) < share(thin) ? i : thin), undefined)
      if (next === undefined) break // all are counted
      added[next]!++
    }
  }
  return added
}

/** Draws the plants of each stratum, spread along the bed; the same again from the same seed. */
export function drawIn(strata: readonly Stratum[], added: readonly number[], seed: number): Plant[][] {
  return strata.map((one, i) => chooseSpread(one.uncounted, added[i]!, seed + i))
}

export interface ColourShare {
  readonly colour: ColourID | ''
  readonly standing: number
  readonly counted: number
}

/** How many plants of each colour class stand and are counted, with those drawn; the commonest first. */
export function colourShares(strata: readonly Stratum[], drawn: readonly (readonly Plant[])[]): ColourShare[] {
  const shares = new Map<ColourID | '', { standing: number; counted: number }>()
  const add = (plants: readonly Plant[], what: 'standing' | 'counted') => {
    for (const { colour } of plants) {
      const share = shares.get(colour) ?? { standing: 0, counted: 0 }
      share[what]++
      shares.set(colour, share)
    }
  }
  for (const [i, { counted, uncounted }] of strata.entries()) {
    add(counted, 'standing')
    add(uncounted, 'standing')
    add(counted, 'counted')
    add(drawn[i] ?? [], 'counted')
  }
  return [...shares].map(([colour, share]) => ({ colour, ...share })).sort((a, b) => b.standing - a.standing)
}

export function total(numbers: readonly number[]): number {
  return numbers.reduce((sum, n) => sum + n, 0)
}

/** How a season's counts stand against the half-width that was wanted. */
export type Verdict =
  | { readonly met: 'unknown' }
  | { readonly met: 'yes' | 'no'; readonly half: number; readonly more: number }

/** Whether the precision wanted was met, and how many plants more it would take another time. */
export function verdictOf(table: PlanTable, reached: { plants: number; half: number | null; next: Halves | null }, standing: number, wanted: number, assurance: number): Verdict {
  const all = Math.max(standing, reached.plants)
  if (reached.plants === all) return { met: 'yes', half: 0, more: 0 }
  if (reached.half === null || reached.next === null) return { met: 'unknown' }
  const half = reached.half * Math.sqrt(1 - reached.plants / all)
  if (half <= wanted) return { met: 'yes', half, more: 0 }
  return { met: 'no', half, more: Math.max(1, plantsFor(table, reached.next, wanted, all, assurance) - reached.plants) }
}
