// What holds of every availability, over farms drawn by chance.

import { expect, it } from 'vitest'
import { Random } from '../../proxy/random'
import { byLife, cooler, type Lot } from '../crop/cooler'
import { addDays } from '../crop/day'
import { sellableOn } from '../crop/fresh_lots'
import { freeOn } from '../crop/free_lots'
import { openNeeds } from '../crop/line_needs'
import { drawn, matched, stemsOf } from '../crop/testing/chance'
import { day, sellingFarm } from '../crop/testing/cutting'
import { available, daysFrom } from './availability'

const seed = Number(process.env['CORYMB_SEED'] ?? Date.now() % 2 ** 31)
const sum = (all: readonly { readonly stems: number }[]) => all.reduce((n, { stems }) => n + stems, 0)
const held = (lots: readonly Lot[]) => lots.reduce((n, { left }) => n + left, 0)
const without = (lots: readonly Lot[], free: readonly number[]) => lots.map((lot, i) => ({ ...lot, left: lot.left - free[i]! }))

it(`what is offered on any day is there, and the lines get as much without it, of what they asked for too (seed ${seed})`, () => {
  const random = new Random(seed)
  for (let run = 0; run < 60; run++) {
    const farm = sellingFarm(drawn(random, { ahead: 8, benched: true }))
    const lots = byLife(cooler(farm, day)).fresh
    const needs = openNeeds(farm.sales, day, addDays(day, 8))
    const asked = needs.map((need) => ({ ...need, instead: [] }))
    const served = [needs, asked].map((some) => matched(farm, some, stemsOf(lots)))
    const { offers } = available(farm, day, daysFrom(day, 9), 10)
    for (const on of daysFrom(day, 9)) {
      const free = freeOn(farm.sales, needs, lots, [on])[0]!
      const said = `run ${run}, ${on}`
      expect(sum(offers.filter((offer) => offer.day === on)), said).toBe(free.reduce((n, stems) => n + stems, 0))
      expect(free.every((stems, i) => stems >= 0 && stems <= lots[i]!.left), said).toBe(true)
      expect(sum(offers.filter((offer) => offer.day === on)), said).toBeLessThanOrEqual(held(lots.filter(({ id }) => sellableOn(farm.sales, id, on))))
      expect([needs, asked].map((some) => matched(farm, some, stemsOf(without(lots, free)))), said).toEqual(served)
    }
  }
})

it(`nothing more could be offered: one stem more of any lot, and a line gets less (seed ${seed})`, () => {
  const random = new Random(seed + 1)
  for (let run = 0; run < 40; run++) {
    const farm = sellingFarm(drawn(random, { ahead: 8, benched: true }))
    const lots = byLife(cooler(farm, day)).fresh
    const needs = openNeeds(farm.sales, day, addDays(day, 8))
    const free = freeOn(farm.sales, needs, lots, [day])[0]!
    const served = matched(farm, needs, stemsOf(lots))
    lots.forEach((lot, i) => {
      if (free[i] === lot.left) return
      const oneMore = free.map((stems, at) => (at === i ? stems + 1 : stems))
      expect(matched(farm, needs, stemsOf(without(lots, oneMore))), `run ${run}, lot ${i}`).toBeLessThan(served)
    })
  }
})
