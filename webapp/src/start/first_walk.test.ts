// The first walk over the real notebook, with the disk in memory.

import { afterEach, beforeEach, expect, it } from 'vitest'
import { Facts } from '../crop/facts'
import { a, b, bed, c, walkOfEach } from '../row/testing/walk'
import { route } from '../ui/route'
import { today } from '../ui/today'
import type { Day } from '../crop/nouns'
import { FirstWalk } from './first_walk'

const row = walkOfEach()
let walk: FirstWalk
let stop: () => void

beforeEach(() => {
  route.value = ['start']
  walk = new FirstWalk(row.notebook)
  stop = walk.follow()
})

afterEach(() => stop())

async function count(...plants: (typeof a)[]): Promise<void> {
  for (const plant of plants) {
    row.session.jump(plant)
    row.session.digit(plant, 4)
    await row.settled()
  }
}

it('notices by itself what is done: three plants, the bed closed, the bench seen', async () => {
  walk.begin()
  expect(walk.step).toBe('count')
  await count(a, b)
  expect([walk.step, walk.counted]).toEqual(['count', 2])
  await count(c)
  await row.settled()
  // The third plant was the last of the bed: nothing was left to close.
  expect([walk.step, walk.doneLast]).toEqual(['bench', 'close'])
  route.value = ['shed']
  expect([walk.step, walk.doneLast]).toEqual([undefined, 'bench'])
})

it('counts what was done after it began, and plants told to bear nothing too', async () => {
  await count(a)
  walk.begin()
  await row.session.closeBed(bed)
  await row.settled()
  expect([walk.step, walk.counted, walk.doneLast]).toEqual(['count', 2, 'close'])
})

it('does not notice what is done while it is left, and goes on where it was', async () => {
  walk.begin()
  walk.skip('count')
  walk.leave()
  await row.session.closeBed(bed)
  await row.settled()
  expect(walk.progress.value?.done).toEqual([])
  walk.resume()
  expect([walk.step, walk.doneLast]).toEqual(['bench', 'close'])
})

it('is kept on the device', async () => {
  walk.begin()
  walk.skip('count')
  await row.settled()
  expect(new FirstWalk(row.notebook).progress.value).toMatchObject({ state: 'going', skipped: ['count'] })
})

it('goes on the next day with that day’s plants', async () => {
  await count(a, b)
  walk.begin()
  today.value = '2026-06-04' as Day
  expect(walk.counted).toBe(0)
  await count(a, b, c)
  expect(walk.doneLast).toBeDefined()
})

it('is offered on the made-up farm until it was refused, and not to crew of a real one', async () => {
  expect(walk.isOffered).toBe(false)
  await row.notebook.record(new Facts('farm', 'farm').set('made_up', 1).list)
  expect(walk.isOffered).toBe(true)
  walk.end()
  expect([walk.isOffered, walk.progress.value?.state]).toEqual([false, 'over'])
})
