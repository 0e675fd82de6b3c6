import { expect, it } from 'vitest'
import type { Day, Season } from '../crop/nouns'
import { northernYear } from '../crop/season'
import { plantingWith } from '../crop/testing/nouns'
import { seasonRule } from './season_rule'

const southern = { start: '07-01', southern: true }

it.each([
  ['set in autumn, two seasons on', northernYear, '2025-09-21', 2026, 2027, { rule: 'after', first: 'past', age: 2 }],
  ['set in autumn, in its first season', northernYear, '2025-09-21', 2026, 2026, { rule: 'after', first: 'now', age: 1 }],
  ['set in autumn, the same autumn', northernYear, '2025-09-21', 2026, 2025, { rule: 'after', first: 'ahead', age: 0 }],
  ['set in spring', northernYear, '2025-03-22', 2025, 2026, { rule: 'before', first: 'past', age: 2 }],
  ['set in the southern spring', southern, '2025-10-05', 2025, 2025, { rule: 'before', first: 'now', age: 1 }],
  ['set in the southern autumn', southern, '2026-04-05', 2026, 2026, { rule: 'after', first: 'now', age: 1 }],
  ['a first season that was told', northernYear, '2022-03-22', 2025, 2026, { rule: 'told', first: 'past', age: 2 }],
  ['a day of planting that nobody knows', northernYear, '', 2025, 2026, { rule: 'told', first: 'past', age: 2 }],
] as const)('%s', (_, calendar, planted, firstSeason, season, rule) => {
  const planting = plantingWith({ planted: planted as Day, firstSeason: firstSeason as Season })
  expect(seasonRule(calendar, planting, season as Season)).toEqual(rule)
})
