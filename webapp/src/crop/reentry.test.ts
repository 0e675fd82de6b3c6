import { describe, expect, it } from 'vitest'
import type { BedID, EventID } from './nouns'
import { keptOut } from './reentry'
import { eventWith, farmWith } from './testing/nouns'

const hour = 3_600_000
const noon = Date.UTC(2026, 5, 3, 12)
const [here, there] = ['b', 'c'] as [BedID, BedID]

/** A spray in a bed whose interval ends so many hours from noon. */
type Spray = readonly [bed: BedID, hours: number, what: string]

describe('a bed is kept out of', () => {
  const cases: [string, readonly Spray[], object | undefined][] = [
    ['not at all where nothing was sprayed', [], undefined],
    ['until the interval ends', [[here, 4, 'soap']], { until: noon + 4 * hour, what: ['soap'] }],
    ['no more from the moment at which it ends', [[here, 0, 'soap']], undefined],
    ['no more once it is over', [[here, -1, 'soap']], undefined],
    ['until the latest end of several, with all that still keep out', [[here, 4, 'soap'], [here, 24, 'oil'], [here, -1, 'sulphur']],
      { until: noon + 24 * hour, what: ['oil', 'soap'] }],
    ['by one name where the same was sprayed twice', [[here, 4, 'soap'], [here, 12, 'soap']], { until: noon + 12 * hour, what: ['soap'] }],
    ['where nobody told with what', [[here, 4, '']], { until: noon + 4 * hour, what: [] }],
    ['not for what was sprayed in another bed', [[there, 4, 'soap']], undefined],
  ]
  it.each(cases)('%s', (_, sprays, out) => {
    const events = sprays.map(([bed, hours, what], i) => eventWith({
      id: `e${i}` as EventID, bed, kind: 'sprayed', what, until: noon + hours * hour,
    }))
    expect(keptOut(farmWith({ events }), here, noon)).toEqual(out)
  })

  it('also by what a later correction calls something else than a spray, as long as its end stands', () => {
    const events = [eventWith({ bed: here, kind: 'fed', until: noon + hour })]
    expect(keptOut(farmWith({ events }), here, noon)).toEqual({ until: noon + hour, what: [] })
  })
})
