import { expect, it } from 'vitest'
import type { Day } from '../crop/nouns'
import { opensFirst } from './morning'

const day = '2026-06-03' as Day
const yesterday = '2026-06-02' as Day

it.each<[string, Day | undefined, readonly string[], boolean, boolean?]>([
  ['a place that somebody went to while the app was opening', yesterday, ['shed'], false, true],
  ['a device that never was opened', undefined, [], true],
  ['the first opening of a day', yesterday, [], true],
  ['a tab that was left on a place overnight', yesterday, ['row'], true],
  ['the second opening of a day', day, [], false],
  ['a page that was asked for by its address', yesterday, ['beds', 'plant', 'p1'], false],
  ['a page that somebody is in the middle of', yesterday, ['shed', 'orders'], false],
  ['an invitation that was opened', yesterday, ['join'], false],
])('%s', (_, openedOn, at, first, wentThere = false) => {
  expect(opensFirst(openedOn, day, at, wentThere)).toBe(first)
})
