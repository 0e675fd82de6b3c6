import { expect, it } from 'vitest'
import type { BedID, Day, EventID, Season } from '../crop/nouns'
import { bedWith, eventWith, farmWith } from '../crop/testing/nouns'
import { doneIn } from './bed_events'

const season = 2026 as Season

it('lists a season’s events of a bed and its cutting back, the newest first', () => {
  const bed = bedWith({ cutBack: new Map([[season, '2026-06-20' as Day], [2025 as Season, '2025-06-20' as Day]]) })
  const events = ([
    ['corralled', 'b', '2026-05-01'], ['watered', 'b', '2026-06-20'], ['fed', 'b', '2026-07-02'],
    ['last year', 'b', '2025-05-01'], ['elsewhere', 'other', '2026-05-02'],
  ] as const).map(([id, of, date]) => eventWith({ id: id as EventID, bed: of as BedID, date: date as Day }))
  const done = doneIn(farmWith({ beds: [bed], events }), bed, season)
  expect(done.map((one) => (one.kind === 'event' ? one.event.id : one.kind))).toEqual(['fed', 'cut_back', 'watered', 'corralled'])
})
