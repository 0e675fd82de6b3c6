// What holds of every cut list, over farms drawn by chance.

import { expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { cutList, listOf } from './cut_list'
import { cutPlan, servedByCooler, withOver } from './cut_plan'
import { addDays } from './day'
import type { DayStems } from './day_stems'
import { type FreshLot, freshLots, sellableOn } from './fresh_lots'
import { type LineNeed, meets, needsOf } from './line_needs'
import type { ColourID, Farm, LengthClass, Purpose, ToldGrade, Visit } from './nouns'
import { beds, countOf, cutVisit, day, type LineTold, plantsIn, sellingFarm, type Told } from './testing/cutting'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
const until = addDays(day, 2)
const colours = ['ember', 'oyster', 'coral', 'damson']
const grades = ['extra', 'first', 'second'] as const

function drawn(random: Random): Told {
  const line = (): LineTold => ({
    stems: random.between(1, 6), bunches: random.between(1, 3), due: addDays(day, random.between(-2, 2)), exact: random.chance(0.3),
    grade: random.chance(0.5) ? '' : random.pick(grades), cm: random.pick([0, 0, 40, 50, 60]),
    colours: random.chance(0.2) ? '' : colours.filter(() => random.chance(0.4)).join(' ') || random.pick(colours),
  })
  const lot = () => cutVisit('bench', random.pick(beds), `${random.pick([...colours, '-'])} ${random.pick([...grades, '-'])} ${random.pick(['40', '50', '60', '-'])}`, random.between(1, 12), addDays(day, -random.between(1, 5)))
  return {
    plants: beds.flatMap((bed) => colours.filter(() => random.chance(0.4)).flatMap((colour) => plantsIn(bed, random.chance(0.1) ? '-' : colour, random.between(1, 6)))),
    lines: Array.from({ length: random.between(1, 6) }, line), visits: Array.from({ length: random.between(0, 5) }, lot),
    accepts: Object.fromEntries(colours.filter(() => random.chance(0.3)).map((asked) => [asked, random.pick(colours)])),
    terms: { coolerDays: random.pick([0, 3]), overCut: random.pick([0, 0, 5, 30]) },
  }
}

interface Stem {
  readonly colour: ColourID | ''
  readonly grade: ToldGrade
  readonly length: LengthClass
  readonly lot?: FreshLot
}

/** How many stems the lines get at most, stem by stem (Kuhn's matching). */
function matched(farm: Farm, needs: readonly LineNeed[], stems: readonly Stem[]): number {
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

const inCooler = (farm: Farm): Stem[] => freshLots(farm, day).flatMap((lot) => Array.from({ length: lot.left }, () => ({ ...lot.id, lot })))
const sum = (all: readonly { readonly stems: number }[]) => all.reduce((n, { stems }) => n + stems, 0)

it(`the cooler serves as many stems as any way of giving them out (seed ${seed})`, () => {
  const random = new Random(seed)
  for (let run = 0; run < 100; run++) {
    const farm = sellingFarm(drawn(random))
    const needs = needsOf(farm.sales, day, until)
    const lacks = servedByCooler(farm.sales, needs, freshLots(farm, day), cutPlan(farm, day, until, beds).giving)
    expect(sum(needs) - sum(lacks), `run ${run}`).toBe(matched(farm, needs, inCooler(farm)))
  }
})

it(`what is asked fills every line but what is named as short, and no more is asked than that and what is over (seed ${seed})`, () => {
  const random = new Random(seed + 1)
  for (let run = 0; run < 100; run++) {
    const farm = sellingFarm(drawn(random))
    const plan = cutPlan(farm, day, until, beds)
    const needs = needsOf(farm.sales, day, until)
    const cut: Stem[] = plan.slots.flatMap(({ want, colour, stems }) => Array.from({ length: stems }, () => ({
      colour, grade: want.grade || 'second', length: { lo: want.length, hi: want.length + 100 } as LengthClass,
    })))
    expect(matched(farm, needs, [...inCooler(farm), ...cut]), `run ${run}`).toBe(sum(needs) - sum(plan.short))
    const wants = new Set(plan.slots.map(({ want }) => want))
    for (const want of wants) {
      expect(sum(plan.slots.filter((slot) => slot.want === want))).toBe(withOver(sum(want.for), plan.over))
      expect(want.stems - sum(want.for)).toBeLessThan((sum(want.for) * plan.over) / 100 + 1)
    }
    expect(plan.cooler + [...wants].reduce((n, want) => n + sum(want.for), 0) + sum(plan.short)).toBe(plan.due)
  }
})

it.each([
  ['no bed has more left to cut of a colour class when further stems come in as they are counted in the row, for lines of one colour', '- -', true],
  ['not more is left to cut in all when further stems come in, however they were told', '', false],
])(`%s (seed ${seed})`, (_, quality, everyBed) => {
  const random = new Random(seed + 2)
  for (let run = 0; run < 100; run++) {
    const told = drawn(random)
    const farm = sellingFarm(everyBed ? { ...told, lines: told.lines!.map((line) => ({ ...line, colours: random.pick(colours) })) } : told)
    const plan = cutPlan(farm, day, until, beds)
    let stems: DayStems[] = []
    const left = () => {
      const list = listOf(plan, stems)
      return everyBed ? list.rows.map((row) => row.left) : [list.left]
    }
    for (let [step, before] = [0, left()]; step < 15; step++) {
      const how = quality || `${random.pick([...grades, 'out', '-'])} ${random.pick(['40', '50', '60', '-'])}`
      stems = [...stems, { ...countOf(`${random.pick([...colours, '-'])} ${how}`, random.between(1, 5)), bed: random.pick([...beds, '' as const]), benched: random.chance(0.5) }]
      const now = left()
      expect(now.map((n, i) => n >= 0 && n <= before[i]!), `run ${run}, step ${step}`).toEqual(now.map(() => true))
      before = now
    }
  }
})

it(`not more is left in all when buckets that were counted in the row come over the bench as good as was held (seed ${seed})`, () => {
  const random = new Random(seed + 3)
  for (let run = 0; run < 30; run++) {
    const told = drawn(random)
    let visits: Visit[] = [...told.visits!]
    const left = () => {
      const farm = sellingFarm({ ...told, visits })
      return cutList(farm, cutPlan(farm, day, until, beds)).left
    }
    for (let [step, before] = [0, left()]; step < 15; step++) {
      visits = [...visits, comingIn(random, told)]
      const now = left()
      expect(now, `run ${run}, step ${step}`).toBeLessThanOrEqual(before)
      before = now
    }
  }
})

/** A count at a plant, told or not; or of a bed, as good as any. */
function comingIn(random: Random, { plants }: Told): Visit {
  const at: Purpose = random.pick(['cut', 'bed_cut', 'bench'])
  const best = `${random.pick(colours)} extra 60`
  const row = `- ${random.pick([...grades, '-'])} ${random.pick(['40', '50', '60', '-'])}`
  const plant = plants!.length > 0 ? random.pick(plants!) : undefined
  if (at === 'cut' && plant) return cutVisit(at, plant.planting, row, random.between(1, 5), day, { plant: plant.id })
  return cutVisit(at === 'cut' ? 'bench' : at, random.pick(beds), best, random.between(1, 5))
}
