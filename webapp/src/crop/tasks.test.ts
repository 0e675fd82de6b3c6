import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import { intentFacts, ownTaskFacts, taskFacts, weatherFacts } from './ahead_facts'
import type { TaskID, TaskKind } from './ahead_nouns'
import { addDays } from './day'
import { bedFacts, calendarFacts, cutBackFacts, eventFacts, plantFacts, plantingFacts, standFacts, stockFacts, visitFacts } from './facts'
import { raiseFacts } from './flags'
import type { BedID, Day, EventKind, Farm, Flush, Origin, PlantID, PlantingID, Season, StockID, VisitID } from './nouns'
import type { Outlook } from './outlook'
import { type TaskNow, tasksOf } from './tasks'
import { bedWith, eventWith, plantingWith, plantWith, stockWith, visitWith } from './testing/nouns'
import { farmID, farmSaid } from './testing/said'

const bed = 'b' as BedID
const stock = 's' as StockID
const season = 2026 as Season

/** A bed with one plant of one stock, planted so that it stands in its third season in 2026. */
function ground(told: { origin?: Origin; protected?: boolean; firstSeason?: number; planted?: string; southern?: boolean } = {}): Fact[] {
  const { origin = 'seed', protected: kept = false, firstSeason = 2024, planted = '2023-09-18', southern = false } = told
  return [
    ...calendarFacts({ id: farmID }, { start: southern ? '07-01' : '01-01', southern }), ...bedFacts(bedWith({ id: bed, name: 'Long' })),
    ...stockFacts(stockWith({ id: stock, origin, protected: kept })),
    ...plantingFacts(plantingWith({ id: 'g' as PlantingID, stock, bed, planted: planted as Day, firstSeason: firstSeason as Season })),
    ...plantFacts(plantWith({ id: 'p' as PlantID, planting: 'g' as PlantingID })),
  ]
}

function cut(id: string, date: string, stems = 10): Fact[] {
  return visitFacts(visitWith({ id: id as VisitID, plant: 'p' as PlantID, date: date as Day, counts: [{ colour: '', grade: '', length: { lo: 0, hi: 0 } as never, stems }] }))
}

function outlook(q05: string, q50: string, q95: string, weeks: readonly (readonly [string, number])[] = [], flush: Flush = 'spring'): Outlook {
  return {
    season, weeks: weeks.map(([first, mean]) => ({ first: first as Day, total: { mean, q05: mean / 2, q95: mean * 2 } })),
    first_cuts: [{ stock, flush, q05: q05 as Day, q50: q50 as Day, q95: q95 as Day, chance: 0.98 }],
  }
}

const may = outlook('2026-05-20', '2026-05-24', '2026-05-30')

function task(farm: Farm, kind: TaskKind, today: string, told: Outlook | 'none' = may): TaskNow | undefined {
  return tasksOf(farm, today as Day, told === 'none' ? undefined : told).find((one) => one.kind === kind && one.season === season)
}

const days = (farm: Farm, kind: TaskKind, today = '2026-03-01', told: Outlook | 'none' = may) => {
  const found = task(farm, kind, today, told)
  return found && [found.first, found.last]
}

describe('the days of a task', () => {
  it.each<[TaskKind, readonly [string, string]]>([
    ['corral', ['2026-04-22', '2026-05-13']], // four weeks to one before the early bound
    ['first_look', ['2026-05-13', '2026-05-24']],
    ['label_mothers', ['2026-05-31', '2026-06-17']],
    ['deadhead', ['2026-06-21', '2026-07-05']],
    ['cut_back', ['2026-06-28', '2026-07-19']], // by practice, since the forecast tells of no weeks
    ['heavy_week', ['2026-05-31', '2026-06-13']],
    ['stand_walk', ['2026-03-15', '2026-04-26']],
    ['divide', ['2026-03-15', '2026-04-26']],
  ])('of %s follow from the forecast or the spring', (kind, want) => expect(days(farmSaid(ground()), kind)).toEqual(want))

  it('follow from the first cut once it came', () => {
    const farm = farmSaid(ground(), cut('v', '2026-05-17'))
    expect(task(farm, 'label_mothers', '2026-05-20')).toMatchObject({ first: '2026-05-24', why: { by: 'first_cut', cut: { from: 'came', likely: '2026-05-17' } } })
    expect(task(farm, 'first_look', '2026-05-20')).toMatchObject({ state: 'done', done: '2026-05-17', shown: true })
  })

  it('follow from the mean of seasons before where there is no forecast, moved for the warmth of this one', () => {
    const farm = farmSaid(ground(), cut('v', '2024-05-20'), cut('w', '2025-05-26'))
    expect(task(farm, 'first_look', '2026-03-01', 'none')).toMatchObject({ first: '2026-05-06', last: '2026-05-23', why: { cut: { from: 'seasons', lead: 0 } } })
    const warm = (year: number, day: string, worth: number) => Array.from({ length: 40 }, (_, i) => weatherFacts(addDays(`${year}-${day}` as Day, i), { min: 10, max: 10 + 2 * worth })).flat()
    const warmer = farmSaid(ground(), cut('v', '2024-05-20'), cut('w', '2025-05-26'), warm(2025, '03-20', 4), warm(2026, '03-20', 8).slice(0, 3 * 12))
    // Twelve days at eight are twenty-four at four.
    expect(task(warmer, 'first_look', '2026-04-01', 'none')).toMatchObject({ last: '2026-05-11', why: { cut: { from: 'seasons', lead: 12 } } })
  })

  it('follow from practice where nothing is known, also by a forecast of another season, or of a flush that hardly comes', () => {
    const last = { ...may, season: 2025 as Season }
    const unlikely = { ...may, first_cuts: may.first_cuts.map((cut) => ({ ...cut, chance: 0.2 })) }
    for (const told of ['none', last, unlikely] as const) {
      expect(task(farmSaid(ground()), 'first_look', '2026-03-01', told)).toMatchObject({ first: '2026-04-29', last: '2026-05-20', why: { cut: { from: 'practice' } } })
    }
  })

  it('lie in the southern spring on a southern farm', () => {
    expect(days(farmSaid(ground({ southern: true, planted: '2024-03-18' })), 'stand_walk', '2026-09-01')).toEqual(['2026-09-15', '2026-10-27'])
  })
})

describe('the weeks of a forecast', () => {
  const weeks = outlook('2026-05-20', '2026-05-24', '2026-05-30', [['2026-05-18', 40], ['2026-05-25', 300], ['2026-06-01', 500], ['2026-06-08', 200], ['2026-06-15', 49], ['2026-06-22', 3]])

  it('tell the heaviest, with a week to make ready, and from when on little is left', () => {
    expect(days(farmSaid(ground()), 'heavy_week', '2026-03-01', weeks)).toEqual(['2026-05-25', '2026-06-07'])
    expect(task(farmSaid(ground()), 'cut_back', '2026-03-01', weeks)).toMatchObject({ first: '2026-06-15', last: '2026-06-29', why: { by: 'little', from: '2026-06-15' } })
  })

  it('are those of the spring flush', () => {
    const fall: Outlook = { ...weeks, first_cuts: [...weeks.first_cuts, { ...weeks.first_cuts[0]!, flush: 'fall', q05: '2026-09-01' as Day }], weeks: [...weeks.weeks, { first: '2026-09-07' as Day, total: { mean: 900, q05: 1, q95: 2 } }] }
    expect(days(farmSaid(ground()), 'heavy_week', '2026-03-01', fall)).toEqual(['2026-05-25', '2026-06-07'])
  })

  it('are measured by those that came', () => {
    const late = outlook('', '', '', [['2026-06-08', 200], ['2026-06-15', 90], ['2026-06-22', 3]], 'fall')
    const farm = farmSaid(ground(), cut('v', '2026-05-26', 300), cut('w', '2026-06-03', 999))
    expect(task(farm, 'heavy_week', '2026-06-09', { ...late, first_cuts: [] })).toMatchObject({ why: { by: 'first_cut' } })
    expect(days(farm, 'cut_back', '2026-06-09', { ...late, first_cuts: [] })).toEqual(['2026-06-15', '2026-06-29'])
  })
})

describe('what is done', () => {
  const event = (kind: EventKind, date: string) => eventFacts(eventWith({ bed, kind, date: date as Day }))
  it.each<[string, TaskKind, Fact[], string]>([
    ['a net', 'corral', event('netted', '2026-05-02'), '2026-05-02'],
    ['a corral', 'corral', event('corralled', '2026-05-03'), '2026-05-03'],
    ['deadheading', 'deadhead', event('deadheaded', '2026-06-20'), '2026-06-20'],
    ['cutting back, which leaves nothing to deadhead', 'deadhead', cutBackFacts(bed, season, '2026-06-25' as Day), '2026-06-25'],
    ['cutting back', 'cut_back', cutBackFacts(bed, season, '2026-06-25' as Day), '2026-06-25'],
    ['a mother’s flag', 'label_mothers', raiseFacts('p' as PlantID, 'mother', '2026-06-02' as Day, ''), '2026-06-02'],
    ['a stand walk', 'stand_walk', standFacts('p' as PlantID, season, { day: '2026-04-02' as Day, what: 'alive' }), '2026-04-02'],
    ['a division', 'divide', [
      ...plantingFacts(plantingWith({ id: 'g2' as PlantingID, stock, bed, planted: '2026-03-20' as Day, firstSeason: season })),
      ...plantFacts(plantWith({ id: 'c' as PlantID, planting: 'g2' as PlantingID, parents: ['p' as PlantID] })),
    ], '2026-03-20'],
  ])('is seen in the record: %s', (_, kind, facts, day) => {
    expect(task(farmSaid(ground(), facts), kind, '2026-06-30')).toMatchObject({ state: 'done', done: day, shown: true })
  })

  it('is not what was done in another season', () => {
    expect(task(farmSaid(ground(), event('netted', '2025-05-02')), 'corral', '2026-05-01')).toMatchObject({ state: 'due' })
  })

  it('was ticked', () => {
    const farm = farmSaid(ground(), taskFacts('2026.corral.b' as TaskID, { done: '2026-05-01' as Day }))
    expect(task(farm, 'corral', '2026-05-02')).toMatchObject({ state: 'done', done: '2026-05-01', shown: false })
  })
})

describe('the state of a task', () => {
  it.each([
    ['2026-04-21', 'coming'], ['2026-04-22', 'due'], ['2026-05-13', 'due'], ['2026-05-14', 'late'], ['2026-05-27', 'late'], ['2026-05-28', 'lapsed'],
  ])('on %s is %s', (today, state) => expect(task(farmSaid(ground()), 'corral', today)?.state).toBe(state))

  it('is coming until the day it was put off to, then due', () => {
    const farm = farmSaid(ground(), taskFacts('2026.corral.b' as TaskID, { due: '2026-05-20' as Day }))
    expect(['2026-05-19', '2026-05-20', '2026-05-21'].map((today) => task(farm, 'corral', today)?.state)).toEqual(['coming', 'due', 'late'])
  })

  it('is dropped for this season alone', () => {
    const farm = farmSaid(ground(), taskFacts('2026.stand_walk.b' as TaskID, { dropped: true }))
    expect(task(farm, 'stand_walk', '2026-03-20')?.state).toBe('dropped')
    expect(tasksOf(farm, '2027-03-20' as Day, undefined).find(({ kind }) => kind === 'stand_walk')?.state).toBe('due')
  })
})

describe('dividing', () => {
  it('waits until plants are old enough', () => expect(days(farmSaid(ground({ firstSeason: 2025 })), 'divide')).toBeUndefined())
  it('leaves protected stock alone', () => expect(days(farmSaid(ground({ protected: true })), 'divide')).toBeUndefined())
  it('comes again in early fall', () => expect(days(farmSaid(ground()), 'divide', '2026-07-01')).toEqual(['2026-09-01', '2026-10-15']))
  it('goes by what was decided, where anything was', () => {
    const decided = (what: 'keep' | 'divide') => farmSaid(ground({ firstSeason: 2026 }), intentFacts(season, 'p' as PlantID, { do: what, made: '2026-01-05' as Day }))
    expect(task(decided('divide'), 'divide', '2026-03-20')).toMatchObject({ state: 'due', why: { by: 'planned', plants: 1 } })
    expect(task(decided('keep'), 'divide', '2026-03-20')).toBeUndefined()
  })
  it('as planned is done once the last plant is, not the first', () => {
    const planned = (plant: string, done: string) => intentFacts(season, plant as PlantID, { do: 'divide', made: '2026-01-05' as Day, done: done as Day | '' })
    const farm = (...dones: readonly [string, string]) => farmSaid(
      ground(), plantFacts(plantWith({ id: 'q' as PlantID, planting: 'g' as PlantingID, number: 2 })), planned('p', dones[0]), planned('q', dones[1]),
      plantingFacts(plantingWith({ id: 'g2' as PlantingID, stock, bed, planted: '2026-03-18' as Day, firstSeason: season })),
      plantFacts(plantWith({ id: 'c' as PlantID, planting: 'g2' as PlantingID, parents: ['p' as PlantID] })),
    )
    expect(task(farm('2026-03-18', ''), 'divide', '2026-03-20')).toMatchObject({ state: 'due', why: { by: 'planned', plants: 1 } })
    expect(task(farm('2026-03-18', '2026-03-19'), 'divide', '2026-03-20')).toMatchObject({ state: 'done', shown: true })
  })
  it('goes by what is left of the last season\u2019s decisions, as the walk does', () => {
    const farm = (done: string) => farmSaid(ground({ firstSeason: 2025 }), intentFacts(2025 as Season, 'p' as PlantID, { do: 'divide', made: '2025-10-05' as Day, done: done as Day | '' }))
    expect(task(farm(''), 'divide', '2026-03-20')).toMatchObject({ state: 'due', why: { by: 'planned', plants: 1 } })
    expect(task(farm('2025-10-20'), 'divide', '2026-03-20')).toBeUndefined()
  })
})

describe('plugs', () => {
  it('are ordered weeks before the day on which they were planted last', () => {
    const farm = farmSaid(ground({ origin: 'plug', planted: '2025-04-10', firstSeason: 2025 }))
    expect(task(farm, 'order_plugs', '2026-01-02')).toMatchObject({ id: '2026.order_plugs.s', stock: 's', first: '2025-11-21', last: '2026-01-16', state: 'due' })
  })
  it('are not ordered of what was sown, or not planted for two seasons', () => {
    expect(task(farmSaid(ground({ planted: '2025-04-10' })), 'order_plugs', '2026-01-02')).toBeUndefined()
    expect(task(farmSaid(ground({ origin: 'plug', planted: '2024-04-10' })), 'order_plugs', '2026-01-02')).toBeUndefined()
  })
})

describe('the list', () => {
  it('has the same ids from the same farm, whoever asks, and each once', () => {
    const ids = (farm: Farm) => tasksOf(farm, '2026-05-01' as Day, may).map(({ id }) => id)
    const all = ids(farmSaid(ground()))
    expect(all).toEqual(ids(farmSaid(ground())))
    expect(new Set(all).size).toBe(all.length)
    expect(all).toContain('2026.corral.b')
  })

  it('shows of the next season what begins soon', () => {
    const next = (today: string) => tasksOf(farmSaid(ground()), today as Day, undefined).filter(({ season: of }) => of === 2027).map(({ kind }) => kind)
    expect(next('2026-09-01')).toEqual([])
    expect(next('2026-12-20').sort()).toEqual(['divide', 'stand_walk'])
  })

  it('has own tasks, with a day or without', () => {
    const farm = farmSaid(ground(), ownTaskFacts('t1' as TaskID, { what: 'mend the fence', due: '2026-05-04' as Day, bed }), ownTaskFacts('t2' as TaskID, { what: 'sharpen' }))
    const own = tasksOf(farm, '2026-05-01' as Day, may).filter(({ kind }) => kind === 'own')
    expect(own.map(({ what, state, bed: of }) => [what, state, of])).toEqual([['mend the fence', 'coming', 'b'], ['sharpen', 'due', '']])
  })

  it('has nothing to do on a farm without plants', () => expect(tasksOf(farmSaid([]), '2026-05-01' as Day, may)).toEqual([]))
})
