// Farms that sell, drawn by chance, and how many stems their lines get at most, found in a way of its own.

import { addDays } from '../day'
import { type FreshLot, sellableOn } from '../fresh_lots'
import { type LineNeed, meets } from '../line_needs'
import type { ColourID, Farm, LengthClass, ToldGrade } from '../nouns'
import { beds, cutVisit, day, type LineTold, plantsIn, type Told } from './cutting'

/** What is asked of chance. */
interface Chance {
  between(first: number, last: number): number
  chance(probability: number): boolean
  pick<T>(from: readonly T[]): T
}

export const colours = ['ember', 'oyster', 'coral', 'damson']
export const grades = ['extra', 'first', 'second'] as const

interface Drawn {
  /** How many days ahead lines are due at most. */
  readonly ahead: number
  /** Whether lots are of the day's own bench too. */
  readonly benched: boolean
}

/** Two days of deliveries, served from the days before. */
const usual: Drawn = { ahead: 2, benched: false }

export function drawn(random: Chance, { ahead, benched }: Drawn = usual): Told {
  const line = (): LineTold => ({
    stems: random.between(1, 6), bunches: random.between(1, 3), due: addDays(day, random.between(-2, ahead)), exact: random.chance(0.3),
    grade: random.chance(0.5) ? '' : random.pick(grades), cm: random.pick([0, 0, 40, 50, 60]),
    colours: random.chance(0.2) ? '' : colours.filter(() => random.chance(0.4)).join(' ') || random.pick(colours),
  })
  const lot = () => cutVisit('bench', random.pick(beds), `${random.pick([...colours, '-'])} ${random.pick([...grades, '-'])} ${random.pick(['40', '50', '60', '-'])}`, random.between(1, 12), addDays(day, -random.between(benched ? 0 : 1, 5)))
  return {
    plants: beds.flatMap((bed) => colours.filter(() => random.chance(0.4)).flatMap((colour) => plantsIn(bed, random.chance(0.1) ? '-' : colour, random.between(1, 6)))),
    lines: Array.from({ length: random.between(1, 6) }, line), visits: Array.from({ length: random.between(0, 5) }, lot),
    accepts: Object.fromEntries(colours.filter(() => random.chance(0.3)).map((asked) => [asked, random.pick(colours)])),
    terms: { coolerDays: random.pick([0, 3]), overCut: random.pick([0, 0, 5, 30]) },
  }
}

export interface Stem {
  readonly colour: ColourID | ''
  readonly grade: ToldGrade
  readonly length: LengthClass
  readonly lot?: FreshLot
}

/** The stems of lots one by one. */
export function stemsOf(lots: readonly FreshLot[]): Stem[] {
  return lots.flatMap((lot) => Array.from({ length: lot.left }, () => ({ ...lot.id, lot })))
}

/** How many stems the lines get at most, stem by stem (Kuhn's matching). */
export function matched(farm: Farm, needs: readonly LineNeed[], stems: readonly Stem[]): number {
  const wanted = needs.flatMap((need) => Array.from({ length: need.stems }, () => need))
  const takenBy = new Map<number, number>()
  const fits = (need: LineNeed, { colour, grade, length, lot }: Stem) =>
    (need.colours.length === 0 || (colour !== '' && [...need.colours, ...need.instead].includes(colour))) && meets(need, grade, length) && (!lot || sellableOn(farm.sales, lot.id, need.on))
  const place = (i: number, tried: Set<number>): boolean => stems.some((stem, j) => {
    if (tried.has(j) || !fits(wanted[i]!, stem)) return false
    tried.add(j)
    const other = takenBy.get(j)
    if (other !== undefined && !place(other, tried)) return false
    takenBy.set(j, i)
    return true
  })
  return wanted.filter((_, i) => place(i, new Set())).length
}
