// The cut list: what is still to be cut by bed and colour class, while the day's stems come in. A stem counts first
// for what its own bed was asked for, then for its colour class in other beds, then for a want that mixes colours. More
// stems never make more to cut in all, but for what the bench tells to be shorter or poorer than was held; where lines
// mix colours, what is left may pass from one bed to another.

import { Assignment } from './assignment'
import type { CutPlan, Slot, Want } from './cut_plan'
import { type DayStems, stemsOfDay } from './day_stems'
import { mayMeet, strictestFirst } from './line_needs'
import { lotCell } from './lots'
import type { BedID, ColourID, Farm } from './nouns'

/** A part of what a bed is to give of a colour class. */
export interface CutPart {
  readonly want: Want
  readonly stems: number
  readonly left: number
}

/** What a bed is to give of a colour class. */
export interface CutRow {
  readonly bed: BedID
  readonly colour: ColourID | ''
  /** What is asked of it: less than in the morning where others have given more than they were asked for. */
  readonly asked: number
  /** Cut today and good for one of its parts, as far as anybody told. */
  readonly cut: number
  readonly left: number
  /** Cut today and good for none: too short, too poor or thrown away. */
  readonly unfit: number
  /** Whether it is known what the bed gave of it lately. */
  readonly known: boolean
  /** The most demanding first. */
  readonly parts: readonly CutPart[]
}

export interface ColourCut {
  readonly asked: number
  readonly cut: number
  readonly left: number
}

export interface CutList {
  readonly plan: CutPlan
  readonly asked: number
  readonly left: number
  /** In the order of the walk. */
  readonly rows: readonly CutRow[]
  readonly colours: ReadonlyMap<ColourID | '', ColourCut>
}

interface Known {
  readonly plan: CutPlan
  readonly key: string
  readonly list: CutList
}

const known = new WeakMap<Farm['visits'], Known>()

/** Worked out once for each state of the day's visits. */
export function cutList(farm: Farm, plan: CutPlan): CutList {
  const key = `${farm.dayVersions.get(plan.day) ?? 0}|${farm.groundVersion}`
  const before = known.get(farm.visits)
  if (before?.plan === plan && before.key === key) return before.list
  const list = listOf(plan, usable(farm, plan, stemsOfDay(farm, plan.day)))
  known.set(farm.visits, { plan, key, list })
  return list
}

/** The day's stems without those that were written off since they came over the bench. */
function usable({ lots }: Farm, { day }: CutPlan, stems: readonly DayStems[]): DayStems[] {
  const taken = new Map<string, number>()
  return stems.map((cell) => {
    const lot = lotCell({ bed: cell.bed, cut: day, colour: cell.colour, grade: cell.grade, length: cell.length })
    const gone = (lots.of.get(lot)?.shrink ?? 0) - (taken.get(lot) ?? 0)
    const n = cell.benched ? Math.min(cell.stems, gone) : 0
    taken.set(lot, (taken.get(lot) ?? 0) + n)
    return { ...cell, stems: cell.stems - n }
  })
}

/** What is left of a plan once stems have been cut. */
export function listOf(plan: CutPlan, stems: readonly DayStems[]): CutList {
  const lacks = lacking(plan.slots, stems)
  const rows = rowsOf(plan, stems, lacks)
  const colours = new Map([...new Set(rows.map(({ colour }) => colour))].map((colour) => [colour, ofColour(plan, stems, rows, colour)] as const))
  return { plan, asked: rows.reduce((sum, { asked }) => sum + asked, 0), left: rows.reduce((sum, { left }) => sum + left, 0), rows, colours }
}

/** The same of all beds together, with what beds gave that were not asked. */
function ofColour({ slots }: CutPlan, stems: readonly DayStems[], rows: readonly CutRow[], colour: ColourID | ''): ColourCut {
  const own = slots.filter((slot) => slot.colour === colour)
  const cut = total(stems.filter((cell) => cell.colour === colour && own.some((slot) => good(slot, cell))))
  const left = rows.reduce((sum, row) => sum + (row.colour === colour ? row.left : 0), 0)
  return { asked: Math.min(total(own), cut + left), cut, left }
}

/** What each slot lacks. */
function lacking(slots: readonly Slot[], stems: readonly DayStems[]): readonly number[] {
  const serving = new Assignment(stems.map((one) => one.stems), slots.map((one) => one.stems))
  // What few stems are good for comes first.
  const inBed = [...slots.keys()].sort((a, b) =>
    strictestFirst(slots[a]!.want, slots[b]!.want) || slots[a]!.want.colours.length - slots[b]!.want.colours.length || a - b)
  // The last beds of the walk are let off first, so that a bed need not be walked at all.
  const elsewhere = [...slots.keys()].sort((a, b) => b - a)
  const stages: readonly (readonly [readonly number[], (slot: Slot, cell: DayStems) => boolean])[] = [
    [inBed, (slot, cell) => slot.colour === cell.colour && slot.bed === cell.bed],
    [elsewhere, (slot, cell) => slot.colour === cell.colour],
    [elsewhere, (slot, cell) => slot.want.any || slot.want.colours.includes(cell.colour)],
  ]
  for (const [order, fits] of stages) {
    for (const i of order) serving.allow(i, [...stems.keys()].filter((j) => fits(slots[i]!, stems[j]!) && good(slots[i]!, stems[j]!)))
    for (const i of order) serving.serve(i)
  }
  return serving.lacks
}

function good({ want }: Slot, { grade, length }: DayStems): boolean {
  return mayMeet(want, grade, length)
}

function rowsOf({ slots, giving }: CutPlan, stems: readonly DayStems[], lacks: readonly number[]): CutRow[] {
  const found = new Map<string, number[]>()
  slots.forEach(({ bed, colour }, i) => {
    const key = `${bed}|${colour}`
    found.set(key, [...found.get(key) ?? [], i])
  })
  return [...found.values()].map((of) => {
    const { bed, colour } = slots[of[0]!]!
    const parts = of.map((i) => ({ want: slots[i]!.want, stems: slots[i]!.stems, left: lacks[i]! })).sort((a, b) => strictestFirst(a.want, b.want))
    const cells = stems.filter((cell) => cell.bed === bed && cell.colour === colour)
    const cut = total(cells.filter((cell) => of.some((i) => good(slots[i]!, cell))))
    const left = parts.reduce((sum, part) => sum + part.left, 0)
    const told = giving.find((one) => one.bed === bed && one.colour === colour)
    return { bed, colour, asked: Math.min(total(parts), cut + left), cut, left, unfit: total(cells) - cut, known: told?.gave !== undefined, parts }
  })
}

function total(all: readonly { readonly stems: number }[]): number {
  return all.reduce((sum, { stems }) => sum + stems, 0)
}
