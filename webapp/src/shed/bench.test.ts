import { signal } from '@preact/signals'
import { beforeEach, describe, expect, it } from 'vitest'
import type { BedID, Day, Farm } from '../crop/nouns'
import type { Notebook } from '../sync/notebook'
import { today } from '../ui/today'
import { Bench, benchVisits } from './bench'
import { monthDay } from './SeasonStart'

describe('the day of what is entered', () => {
  const [yesterday, day, tomorrow] = ['2026-06-02', '2026-06-03', '2026-06-04'] as [Day, Day, Day]
  let bench: Bench
  beforeEach(() => {
    today.value = day
    bench = new Bench({} as unknown as Notebook)
  })

  it('is today, and goes on with it over midnight', () => {
    bench.chooseDay(yesterday)
    bench.chooseDay(day)
    today.value = tomorrow
    expect(bench.date.value).toBe(tomorrow)
    expect(bench.otherDay.value).toBeUndefined()
  })

  it('is the day chosen, and stays it', () => {
    bench.chooseDay(yesterday)
    today.value = tomorrow
    expect(bench.date.value).toBe(yesterday)
  })

  it('stays empty where the field was cleared, and is not taken for today', () => {
    bench.chooseDay('' as Day)
    expect(bench.date.value).toBe('')
  })
})

describe('how open the heads were', () => {
  const begun = (stage: string) => new Map([['own', { id: 'own', stage }]])
  const benchOf = (visits: ReadonlyMap<string, unknown>) => {
    const recorded: unknown[] = []
    const notebook = {
      farm: signal({ visits }), visitID: (bed: string, day: string) => (bed === 'b' && day === '2026-06-03' ? 'own' : 'another'),
      record: (facts: readonly unknown[]) => { recorded.push(...facts); return Promise.resolve() },
    } as unknown as Notebook
    today.value = '2026-06-03' as Day
    const bench = new Bench(notebook)
    bench.bed.value = 'b' as BedID
    return { bench, recorded }
  }

  it('waits for the first stems of a total that is not begun, and stays with its bed and day', async () => {
    const { bench, recorded } = benchOf(new Map())
    await bench.tellStage('opening')
    expect([bench.stage(), recorded]).toEqual(['opening', []])
    bench.chooseDay('2026-06-02' as Day)
    expect(bench.stage()).toBe('')
  })

  it.each([['full'], ['']] as const)('is set at once of a total that is begun: %j', async (stage) => {
    const { bench, recorded } = benchOf(begun('opening'))
    expect(bench.stage()).toBe('opening')
    await bench.tellStage(stage)
    expect(recorded).toMatchObject([{ scope: 'shed', type: 'visit', id: 'own', field: 'stage', value: stage }])
  })
})

it('lists a day by the beds’ names, numbers by their value', () => {
  const beds = [['x', 'Bed 10'], ['y', 'Bed 9'], ['z', 'Arbour']].map(([id, name]) => [id, { id, name }])
  const visits = ['x', 'y', 'z', 'gone'].map((bed) => [bed, { id: bed, bed, purpose: 'bench', date: '2026-06-03', counts: [{}] }])
  const visitsOn = new Map([['2026-06-03', new Set(['x', 'y', 'z', 'gone'])]])
  const farmWith = { beds: new Map(beds as []), visits: new Map(visits as []), visitsOn } as unknown as Farm
  expect(benchVisits(farmWith, '2026-06-03' as Day).map(({ bed }) => bed)).toEqual(['gone', 'z', 'y', 'x'])
})

it.each([[1, 31, '01-31'], [2, 31, '02-28'], [4, 31, '04-30'], [10, 5, '10-05']])('month %d day %d starts a season on %s', (month, day, start) => {
  expect(monthDay(month, day)).toBe(start)
})
