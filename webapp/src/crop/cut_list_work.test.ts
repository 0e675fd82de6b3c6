// What a tap in the row costs the cut list in a farm's busiest season: counted, not timed.

import { expect, it } from 'vitest'
import { cutList } from './cut_list'
import { cutPlan } from './cut_plan'
import { addDays } from './day'
import type { Day, Farm, PlantID, Visit, VisitID } from './nouns'
import { beds, cutVisit, day, packedWith, plantsIn, sellingFarm } from './testing/cutting'

/** A map that counts how many of its entries were looked at. */
class Looked<K, V> extends Map<K, V> {
  looks = 0

  override get(key: K): V | undefined {
    this.looks++
    return super.get(key)
  }

  override *values(): MapIterator<V> {
    for (const value of super.values()) {
      this.looks++
      yield value
    }
  }
}

const until = addDays(day, 2)
const [daysBack, aDay, ofToday] = [365, 55, 300]

function yearOfCuts(): { readonly farm: Farm; readonly looks: () => { visits: number; packed: number; plants: number } } {
  const plants = beds.flatMap((bed) => ['ember', 'oyster'].flatMap((colour) => plantsIn(bed, colour, 500)))
  const past = Array.from({ length: daysBack * aDay }, (_, i) =>
    cutVisit('bench', beds[i % 3]!, `ember first ${40 + 10 * (i % 3)}`, 5, addDays(day, -1 - Math.floor(i / aDay))))
  const today = Array.from({ length: ofToday }, (_, i) => cutVisit('cut', 'A', '- - -', 1, day, { plant: `A ember ${i + 1}` as PlantID }))
  const packed = Array.from({ length: 20_000 }, (_, i) => packedWith(`old ${i}`, 1, {}))
  const farm = sellingFarm({ plants, visits: [...past, ...today], packed, lines: Array.from({ length: 40 }, (_, i) => ({ stems: 10, bunches: 9, colours: 'ember', cm: 40 + 10 * (i % 3) })) })
  const [visits, packedOnes, standing] = [new Looked(farm.visits), new Looked(farm.sales.packed), new Looked(farm.plants)]
  return {
    farm: { ...farm, visits, plants: standing, sales: { ...farm.sales, packed: packedOnes }, dayVersions: new Map([[day, 1]]) },
    looks: () => {
      const seen = { visits: visits.looks, packed: packedOnes.looks, plants: standing.looks }
      visits.looks = packedOnes.looks = standing.looks = 0
      return seen
    },
  }
}

/** A stem more at a plant, as the notebook tells it: a new farm around the same maps. */
function tapped(farm: Farm, n: number): Farm {
  const visit: Visit = cutVisit('cut', 'A', '- - -', 1, day, { plant: `A ember ${n}` as PlantID })
  ;(farm.visits as Map<VisitID, Visit>).set(visit.id, visit)
  ;(farm.visitsOn.get(day) as Set<VisitID>).add(visit.id)
  ;(farm.dayVersions as Map<Day, number>).set(day, farm.dayVersions.get(day)! + 1)
  return { ...farm }
}

it('looks at the day’s visits and at nothing else of the year', () => {
  const { farm, looks } = yearOfCuts()
  const list = (of: Farm) => cutList(of, cutPlan(of, day, until, beds))
  const before = list(farm)
  expect(looks().visits).toBeLessThan(16 * aDay + ofToday * 2 + 100) // two weeks back, and the day
  const after = list(tapped(farm, 301))
  expect(before.left - after.left).toBe(1)
  expect(looks()).toEqual({ visits: ofToday + 1, packed: 0, plants: ofToday + 1 })
  list({ ...farm })
  expect(looks(), 'a drawing that no count came before').toEqual({ visits: 0, packed: 0, plants: 0 })
})

it('is worked out anew when an earlier day’s visits, what is sold or the ground change', () => {
  const { farm } = yearOfCuts()
  const plan = cutPlan(farm, day, until, beds)
  expect(cutPlan({ ...farm }, day, until, beds)).toBe(plan)
  for (const change of [
    { sales: { ...farm.sales } }, { groundVersion: farm.groundVersion + 1 },
    { dayVersions: new Map([...farm.dayVersions, [addDays(day, -1), 9] as const]) }, { dayVersions: new Map([...farm.dayVersions, [addDays(day, -14), 9] as const]) },
  ] satisfies Partial<Farm>[]) expect(cutPlan({ ...farm, ...change }, day, until, beds)).not.toBe(plan)
})
