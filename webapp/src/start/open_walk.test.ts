import { expect, it } from 'vitest'
import type { BedID, Day } from '../crop/nouns'
import { a, bed, day, walkOfEach } from '../row/testing/walk'
import { openWalk } from './open_walk'

const walk = walkOfEach()
const farm = () => walk.notebook.farm.value
const at = { bed, day, at: a, mode: 'number' } as const

it('a walk of which nobody told a plant yet is not left open', () => {
  expect(openWalk(farm(), at)).toBeUndefined()
})

it('a walk with plants to go is, whatever day it was on, until the bed is closed', async () => {
  walk.session.digit(a, 4)
  await walk.settled()
  expect(openWalk(farm(), at)).toEqual({ bed, day, plants: 2 })
  await walk.session.closeBed(bed)
  await walk.settled()
  expect(openWalk(farm(), at)).toBeUndefined()
})

it.each([
  ['none was begun', undefined],
  ['its bed is gone', { ...at, bed: 'gone' as BedID }],
  ['it was on a day on which nothing was counted', { ...at, day: '2026-01-01' as Day }],
])('there is none where %s', async (_, position) => {
  walk.session.digit(a, 4)
  await walk.settled()
  expect(openWalk(farm(), position)).toBeUndefined()
})
