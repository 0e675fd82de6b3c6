// What a morning's cut is to bring, before any of it is cut: the lines due less what is packed and what the cooler can
// serve, a little over for shrink, spread over the beds and colour classes that may give it.

import { Assignment } from './assignment'
import { type FreshLot, freshDays, freshLots } from './fresh_lots'
import { daysLately, type Giving, givingOf } from './giving'
import { type Least, type LineNeed, needsOf, strictestFirst } from './line_needs'
import { colourKinds, lotsFor } from './lots_for'
import type { BedID, ColourID, Day, Farm } from './nouns'
import type { Sales } from './sale_nouns'
import { Spread } from './spread'

/** Stems of the same colours, grade and length that lines lack. */
export interface Want extends Least {
  /** Those that may be cut for it; '' are plants whose colour nobody has seen, for lines that take any. */
  readonly colours: readonly (ColourID | '')[]
  /** Any colour will do. */
  readonly any: boolean
  /** Colours are cut here that were not asked for, since of those nothing stands. */
  readonly instead: boolean
  /** To be cut, with what is over for shrink. */
  readonly stems: number
  readonly for: readonly LineLack[]
}

export interface LineLack {
  readonly need: LineNeed
  /** What the cooler cannot serve. */
  readonly stems: number
}

/** Stems of one want to be cut of a colour class in a bed. */
export interface Slot {
  readonly want: Want
  readonly bed: BedID
  readonly colour: ColourID | ''
  readonly stems: number
}

export interface CutPlan {
  readonly day: Day
  readonly until: Day
  /** Percent cut beyond what is lacking. */
  readonly over: number
  /** Stems due and not packed. */
  readonly due: number
  /** What of these should have gone out before the day. */
  readonly overdue: readonly LineNeed[]
  /** What of these the cooler can serve. */
  readonly cooler: number
  readonly slots: readonly Slot[]
  /** What no bed can give, with what was asked for. */
  readonly short: readonly LineLack[]
  readonly giving: readonly Giving[]
}

interface Known {
  readonly sales: Sales
  readonly key: string
  readonly plan: CutPlan
}

const known = new WeakMap<Farm['visits'], Known>()

/**
 * The plan for a day's cut, from the deliveries up to another day and those overdue. Worked out anew only when the ground, what is sold
 * or an earlier day's visits have changed: a tap in the row changes none of them.
 *
 * @param beds - those that are walked, in the order of the walk
 */
export function cutPlan(farm: Farm, day: Day, until: Day, beds: readonly BedID[]): CutPlan {
  const before = known.get(farm.visits)
  const days = new Set([...freshDays(farm.sales, day), ...daysLately(day)])
  const key = [day, until, farm.groundVersion, beds.join(), ...[...days].map((one) => farm.dayVersions.get(one) ?? 0)].join('|')
  if (before?.sales === farm.sales && before.key === key) return before.plan
  const plan = planned(farm, day, until, beds)
  known.set(farm.visits, { sales: farm.sales, key, plan })
  return plan
}

function planned(farm: Farm, day: Day, until: Day, beds: readonly BedID[]): CutPlan {
  const giving = givingOf(farm, day, beds)
  const needs = needsOf(farm.sales, day, until)
  const lacks = servedByCooler(farm.sales, needs, freshLots(farm, day), giving)
  const over = farm.sales.terms.overCut
  const short = lacks.filter(({ need }) => cuttable(need, giving) === undefined)
  const wants = wantsOf(lacks.filter((lack) => !short.includes(lack)), giving, over)
  const due = sum(needs)
  return { day, until, over, due, overdue: needs.filter((need) => need.due < day), cooler: due - sum(lacks), slots: slotsOf(wants, giving, beds), short, giving }
}

/** What lines lack after the cooler: those that no bed can help are served first, then those due first, with asked colours before others. */
export function servedByCooler(sales: Sales, needs: readonly LineNeed[], lots: readonly FreshLot[], giving: readonly Giving[]): LineLack[] {
  const serving = new Assignment(lots.map(({ left }) => left), needs.map(({ stems }) => stems))
  const helpless = [...needs.keys()].filter((i) => cuttable(needs[i]!, giving) === undefined)
  const others = [...needs.keys()].filter((i) => !helpless.includes(i))
  for (const group of [helpless, others]) {
    for (const colours of colourKinds) {
      for (const i of group) serving.allow(i, lotsFor(sales, needs[i]!, lots, colours))
      for (const i of group) serving.serve(i)
    }
  }
  return needs.flatMap((need, i) => (serving.lacks[i]! > 0 ? [{ need, stems: serving.lacks[i]! }] : []))
}

/** The colours that are cut for a line: asked ones that stand, else what the buyer takes instead; undefined where none stands. */
function cuttable({ colours, instead }: LineNeed, giving: readonly Giving[]): Pick<Want, 'colours' | 'any' | 'instead'> | undefined {
  const standing = new Set(giving.map(({ colour }) => colour))
  if (colours.length === 0) return standing.size > 0 ? { colours: [...standing], any: true, instead: false } : undefined
  const [asked, others] = [colours, instead].map((some) => some.filter((colour) => standing.has(colour)))
  if (asked!.length > 0) return { colours: asked!, any: false, instead: false }
  return others!.length > 0 ? { colours: others!, any: false, instead: true } : undefined
}

function wantsOf(lacks: readonly LineLack[], giving: readonly Giving[], over: number): Want[] {
  const found = new Map<string, Omit<Want, 'stems' | 'for'> & { readonly for: LineLack[] }>()
  for (const lack of lacks) {
    const { grade, length } = lack.need
    const cut = cuttable(lack.need, giving)!
    const key = [grade, length, cut.any, cut.instead, ...[...cut.colours].sort()].join('|')
    const want = found.get(key) ?? { ...cut, grade, length, for: [] }
    want.for.push(lack)
    found.set(key, want)
  }
  return [...found.values()].map((want) => ({ ...want, stems: withOver(sum(want.for), over) })).sort(strictestFirst)
}

/** Rounded up to whole stems. */
export function withOver(stems: number, percent: number): number {
  return Math.ceil((stems * (100 + percent)) / 100)
}

/** Nobody goes to a bed for fewer stems of a want, where another may give them: common practice, no source. */
const fewest = 5

function slotsOf(wants: readonly Want[], giving: readonly Giving[], beds: readonly BedID[]): Slot[] {
  const [overColours, overBeds] = [new Spread<ColourID | ''>(), new Spread<Giving>()]
  const slots = wants.flatMap((want) => {
    const colours = want.colours.map((colour) => [colour, sumOf(giving, colour)] as const)
    return overColours.over(want.stems, want.any ? richest(colours, want.stems) : colours).flatMap(([colour, ofColour]) => {
      const places = giving.filter((one) => one.colour === colour).map((one) => [one, one.weight] as const)
      return overBeds.over(ofColour, richest(places, ofColour)).map(([{ bed }, stems]) => ({ want, bed, colour, stems }))
    })
  })
  return slots.filter(({ stems }) => stems > 0).sort((a, b) => beds.indexOf(a.bed) - beds.indexOf(b.bed))
}

/** So many of those that give most that none is asked for very few. */
function richest<Of>(all: readonly (readonly [Of, number])[], stems: number): (readonly [Of, number])[] {
  const least = [...all].map(([, weight]) => weight).sort((a, b) => b - a)[Math.max(1, Math.floor(stems / fewest)) - 1] ?? 0
  return all.filter(([, weight]) => weight >= least)
}

function sumOf(giving: readonly Giving[], colour: ColourID | ''): number {
  return giving.reduce((total, one) => total + (one.colour === colour ? one.weight : 0), 0)
}

function sum(all: readonly { readonly stems: number }[]): number {
  return all.reduce((total, { stems }) => total + stems, 0)
}
