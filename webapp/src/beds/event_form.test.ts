import { describe, expect, it } from 'vitest'
import type { BedID, Day, EventID } from '../crop/nouns'
import { eventWith } from '../crop/testing/nouns'
import { beginning, correcting, type Draft, eventOf } from './event_form'

const now = new Date(2026, 5, 3, 14, 5, 40).getTime()
const today = '2026-06-03' as Day
const hour = 3_600_000
const id = { id: 'e' as EventID, bed: 'b' as BedID, person: '' as const }

function draftWith(told: Partial<Draft>): Draft {
  return { ...beginning('sprayed', today, now), ...told }
}

describe('what was told of an event', () => {
  const cases: [string, Partial<Draft>, object | string][] = [
    ['is of today and of the kind tapped', { kind: 'netted' }, { kind: 'netted', date: today, what: '', until: 0 }],
    ['keeps what was used without blanks around it', { kind: 'fed', what: ' fish emulsion ' }, { kind: 'fed', what: 'fish emulsion' }],
    ['may be of an earlier day', { kind: 'watered', date: '2026-05-20' }, { date: '2026-05-20' }],
    ['is of no day ahead', { kind: 'watered', date: '2026-06-04' }, 'future'],
    ['is of a day that there is', { kind: 'watered', date: '2026-02-30' }, 'day'],
    ['of a spray keeps out for the hours of the label from its end on', { interval: '12', at: '13:30' },
      { until: new Date(2026, 5, 4, 1, 30).getTime() }],
    ['of a spray on an earlier day counts from that day', { interval: '48', date: '2026-06-02', at: '09:00' },
      { until: new Date(2026, 5, 4, 9, 0).getTime() }],
    ['of a spray keeps nobody out where the label gives no interval', { interval: 'none', at: '' }, { until: 0 }],
    ['of a spray wants to know what the label says', { interval: '' }, 'interval'],
    ['of a spray takes whole hours alone', { interval: '4.5' }, 'interval'],
    ['of a spray takes no interval of nothing', { interval: '0' }, 'interval'],
    ['of a spray takes no interval beyond 100 days', { interval: '2401' }, 'interval'],
    ['of a spray wants to know when it ended', { interval: '4', at: '' }, 'at'],
    ['of a spray did not end in a while', { interval: '4', at: '14:30' }, 'ahead'],
    ['of anything but a spray keeps nobody out', { kind: 'fed', interval: '24', at: '10:00' }, { until: 0 }],
  ]
  it.each(cases)('%s', (_, told, wanted) => {
    const made = eventOf(draftWith(told), id, today, now)
    if (typeof wanted === 'string') expect(made).toEqual({ problem: wanted })
    else expect(made).toMatchObject({ event: { ...id, ...wanted } })
  })

  it('ends now unless told', () => {
    expect(eventOf(draftWith({ interval: '4' }), id, today, now)).toMatchObject({ event: { until: new Date(2026, 5, 3, 18, 5).getTime() } })
  })
})

describe('correcting a spray', () => {
  const spray = eventWith({ kind: 'sprayed', date: today, what: 'soap', until: now + 4 * hour })

  it('keeps the end that it has', () => {
    expect(eventOf({ ...correcting(spray), what: 'oil' }, spray, today, now)).toEqual({ event: { ...spray, what: 'oil' } })
  })

  it('to another day asks for the interval anew, since it counted from the wrong one', () => {
    expect(eventOf({ ...correcting(spray), date: '2026-06-02' as Day }, spray, today, now)).toEqual({ problem: 'interval' })
  })

  it('of which the label gave no interval leaves it so', () => {
    expect(eventOf(correcting({ ...spray, until: 0 }), spray, today, now)).toEqual({ event: { ...spray, until: 0 } })
  })
})
