// What holds of every cut list, over farms drawn by chance.

import { expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { cutList, listOf } from './cut_list'
import { cutPlan, servedByCooler, withOver } from './cut_plan'
import { addDays } from './day'
import type { DayStems } from './day_stems'
import { freshLots } from './fresh_lots'
import { needsOf } from './line_needs'
import type { Farm, LengthClass, Purpose, Visit } from './nouns'
import { colours, drawn, grades, matched, type Stem, stemsOf } from './testing/chance'
import { beds, countOf, cutVisit, day, sellingFarm, type Told } from './testing/cutting'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
const until = addDays(day, 2)
const inCooler = (farm: Farm) => stemsOf(freshLots(farm, day))
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
