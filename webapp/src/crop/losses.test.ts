import { describe, expect, it } from 'vitest'
import { bedFacts, plantFacts, plantingFacts } from './facts'
import { losses, saysLittle } from './losses'
import type { BedID, Day, PlantID, PlantingID, Season } from './nouns'
import { bedWith, plantingWith, plantWith } from './testing/nouns'
import { benchSaid, claimSaid, lotOf, packedSaid, shrinkSaid } from './testing/sold'
import { farmSaid } from './testing/said'

const [from, to] = ['2026-01-01', '2026-12-31'] as [Day, Day]
const planted = (id: string, bed: string, first: number) => [
  ...plantingFacts(plantingWith({ id: id as PlantingID, bed: bed as BedID, planted: `${first - 1}-09-18` as Day, firstSeason: first as Season })),
  ...plantFacts(plantWith({ id: `P ${id}` as PlantID, code: id, planting: id as PlantingID })),
]
const [a, b, c] = [lotOf('a', '2026-06-01'), lotOf('b', '2026-06-01'), lotOf('a', '2026-06-08')]
const farm = farmSaid(
  bedFacts(bedWith({ id: 'a' as BedID })), bedFacts(bedWith({ id: 'b' as BedID })), planted('old', 'a', 2024), planted('mid', 'b', 2025), planted('new', 'b', 2026),
  benchSaid('v', a, 100, { stage: 'opening' }), benchSaid('w', b, 200, { stage: 'full' }), benchSaid('w2', b, 100), benchSaid('x', c, 50, { stage: 'full' }),
  benchSaid('last year', lotOf('a', '2025-06-01'), 1000), shrinkSaid('y', lotOf('a', '2025-06-01'), 900),
  shrinkSaid('s1', a, 10), shrinkSaid('s2', b, 30, 'too_open'), shrinkSaid('s3', b, 6),
  packedSaid('pa', 'li', '2026-06-04', 8, [[a, 80]]), packedSaid('pb', 'lj', '2026-06-04', 20, [[b, 200]]),
  claimSaid('c1', { lot: a, stems: 8, reason: 'shattered' }), claimSaid('c2', { stems: 5 }),
)

describe('what was lost, with what it stands on', () => {
  const told = losses(farm, from, to)
  const rows = (all: readonly { of: string; lots: number; cut: number; shrink: number; packed: number; claimed: number }[]) =>
    all.map(({ of, lots, cut, shrink, packed, claimed }) => [of, lots, cut, shrink, packed, claimed])
  it.each<[string, unknown, unknown]>([
    ['in all, and nothing of another year', told.whole, { of: '', lots: 3, cut: 450, shrink: 46, packed: 280, claimed: 8 }],
    ['by bed', rows(told.byBed), [['b', 1, 300, 36, 200, 0], ['a', 2, 150, 10, 80, 8]]],
    ['by age, several by themselves', rows(told.byAge), [['1+2', 1, 300, 36, 200, 0], ['3', 2, 150, 10, 80, 8]]],
    ['by stage, partly told by itself', rows(told.byStage), [['several', 1, 300, 36, 200, 0], ['opening', 1, 100, 10, 80, 8], ['full', 1, 50, 0, 0, 0]]],
    ['by why it was written off', told.shrunk, [{ reason: 'too_open', stems: 30 }, { reason: 'wilted', stems: 16 }]],
    ['by why it was claimed', told.claims, [{ reason: 'shattered', stems: 8, claims: 1 }, { reason: 'wilted', stems: 5, claims: 1 }]],
    ['and what no lot was told of', told.claimedOfNoLot, 5],
  ])('%s', (_, got, want) => expect(got).toEqual(want))
})

it.each([[9, 5000, true], [10, 499, true], [10, 500, false]])('%d lots of %d stems say little: %s', (lots, cut, little) => {
  expect(saysLittle({ lots, cut, shrink: 0, packed: 0, claimed: 0 })).toBe(little)
})
