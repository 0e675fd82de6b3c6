import { describe, expect, it } from 'vitest'
import type { Farm } from '../crop/nouns'
import type { Refused } from '../sync/notebook'
import { refusedSteps } from './refused'

const farm = {
  unit: 'cm', colours: new Map(),
  plants: new Map([['p', { code: 'R4K 7M' }]]),
  beds: new Map([['b', { name: 'Gate' }]]),
  visits: new Map([['known', { plant: 'p', bed: 'b', date: '2026-06-03' }]]),
} as unknown as Farm

let seq = 0
function refused(id: string, field: string, value: number | string, code = 'count', type = 'visit'): Refused {
  return { seq: ++seq, code, type, id, field, value }
}

describe('what was refused', () => {
  const cases: [string, Refused[], object[]][] = [
    ['names plant, day and number of a visit that the farm holds', [refused('known', 'extra|500|600', 1200)],
      [{ subject: 'R4K 7M', day: '2026-06-03', counts: [{ name: 'extra, 50 cm', n: 1200 }], codes: ['count'] }]],
    ['tells of a visit that was refused whole from its own changes',
      [refused('new', 'bed', 'b', 'operation'), refused('new', 'date', '2027-01-01', 'date'), refused('new', '||0|0', 40, 'operation')],
      [{ subject: 'Gate', day: '2027-01-01', counts: [{ name: 'not graded', n: 40 }], codes: ['date'] }]],
    ['leaves the number out where it is none', [refused('known', '|0|0', 'many')], [{ counts: [{ name: 'not graded', n: undefined }] }]],
    ['says that the step was refused where it gives no reason of its own', [refused('known', 'withdrawn', 1, 'operation')], [{ codes: ['operation'] }]],
    ['names a bed', [refused('b', 'cut_back.2026', 'x', 'value', 'bed')], [{ subject: 'Gate', day: undefined, counts: [] }]],
    ['admits what it does not know', [refused('gone', '|0|0', 3)], [{ subject: '', day: '' }]],
  ]
  it.each(cases)('%s', (_, changes, steps) => {
    expect(refusedSteps(changes, farm)).toMatchObject(steps)
  })

  it('is one entry for each visit, though numbers come again after a new identity', () => {
    const [one, other] = [refused('known', '|0|0', 1), { ...refused('new', '|0|0', 2), seq: 1 }]
    const steps = refusedSteps([one, other, refused('known', 'extra|0|0', 3)], farm)
    expect(steps.map(({ key }) => key)).toEqual(['visit known', 'visit new'])
  })
})
