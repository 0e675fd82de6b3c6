import { expect, it } from 'vitest'
import type { Role } from '../crop/member'
import { a, bed, day, walkOfEach } from '../row/testing/walk'
import { type Deeds, deedsOn, isAt, isDone, type Step, stepsFor } from './walk_steps'

it.each<[Role, boolean, readonly Step[]]>([
  ['owner', true, ['count', 'close', 'bench', 'ages', 'ask', 'bed']],
  ['owner', false, ['bed', 'count', 'close', 'bench']],
  ['crew', true, ['count', 'close', 'bench', 'ages']],
  ['crew', false, ['count', 'close', 'bench']],
  ['viewer', true, []],
])('leads %s of a farm that is made up (%s)', (role, madeUp, steps) => {
  expect(stepsFor(role, madeUp)).toEqual(steps)
})

const before: Deeds = { plants: 2, closed: 1, asks: 9, beds: 5 }

it.each<[Step, Partial<Deeds>, boolean, readonly string[], boolean]>([
  ['count', { plants: 4 }, true, ['row'], false],
  ['count', { plants: 5 }, true, ['row'], true],
  ['close', { closed: 1 }, true, ['row'], false],
  ['close', { closed: 2 }, false, ['shed'], true],
  ['bench', {}, true, ['shed'], true],
  ['bench', {}, false, ['shed'], false],
  ['bench', {}, true, ['shed', 'settings'], false],
  ['ages', {}, true, ['beds'], false],
  ['ages', {}, true, ['beds', 'ages'], true],
  ['ask', { asks: 10 }, false, ['ahead', 'ask'], true],
  ['ask', { asks: 9 }, true, ['ahead', 'ask'], false],
  ['bed', { beds: 6 }, true, ['beds', 'planted'], true],
])('%s after %j, its turn %s, at %j: done %s', (step, now, isTurn, route, done) => {
  expect(isDone(step, before, { ...before, ...now }, isTurn, route)).toBe(done)
})

it('knows a step’s page by the beginning of its address', () => {
  expect([isAt('count', ['row', 'plants']), isAt('bed', ['beds', 'tray', 'b1']), isAt('ages', ['beds'])]).toEqual([true, true, false])
})

const row = walkOfEach()

it('knows what this device told on a day from what others did', async () => {
  row.session.digit(a, 4)
  await row.session.closeBed(bed)
  await row.settled()
  const farm = row.notebook.farm.value
  expect(deedsOn(farm, day, () => true)).toMatchObject({ plants: 3, closed: 1 })
  expect(deedsOn(farm, day, ({ plant }) => plant === a)).toMatchObject({ plants: 1, closed: 1 })
  expect(deedsOn(farm, day, () => false)).toMatchObject({ plants: 0, closed: 0 })
})
