import { describe, expect, it } from 'vitest'
import type { Fact } from '../log/change'
import type { TaskID } from './ahead_nouns'
import { bedFacts, plantFacts, plantingFacts, stockFacts } from './facts'
import type { BedID, Day, Farm, PersonID, PlantID, PlantingID, Season, StockID } from './nouns'
import { deedsOf, doneDeed, droppedDeed, eventOfTask, ownDeed, ownGoneDeed, putOffDeed, undoneDeed } from './task_deeds'
import { type TaskNow, tasksOf } from './tasks'
import { bedWith, plantingWith, plantWith, stockWith } from './testing/nouns'
import { farmSaid } from './testing/said'

const bed = 'b' as BedID
const ground = [
  ...bedFacts(bedWith({ id: bed })), ...stockFacts(stockWith({ id: 's' as StockID })),
  ...plantingFacts(plantingWith({ id: 'g' as PlantingID, stock: 's' as StockID, bed })), ...plantFacts(plantWith({ id: 'p' as PlantID, planting: 'g' as PlantingID })),
]
const today = '2026-04-27' as Day
const maren = 'maren' as PersonID
const season = 2026 as Season

const one = (farm: Farm, kind: TaskNow['kind'], day = today) => tasksOf(farm, day, undefined).find((task) => task.kind === kind && task.season === season)!

describe('a task done', () => {
  it('as a deed to the bed tells the deed too, and is taken back as one', () => {
    const farm = farmSaid(ground)
    const deed = doneDeed(farm, one(farm, 'corral'), 'netted', today, maren)
    const done = farmSaid(ground, deed.facts)
    expect([...done.events.values()]).toEqual([{ id: eventOfTask('2026.corral.b' as TaskID, 'netted'), bed, kind: 'netted', date: today, person: maren, what: '', until: 0 }])
    expect(one(done, 'corral')).toMatchObject({ state: 'done', done: today, shown: true })
    const back = farmSaid(ground, deed.facts, deed.undo)
    expect([back.events.size, one(back, 'corral').state]).toEqual([0, 'due'])
    const again = farmSaid(ground, deed.facts, deed.undo, doneDeed(back, one(back, 'corral'), 'netted', today, maren).facts)
    expect([again.events.size, one(again, 'corral').state]).toEqual([1, 'done'])
  })

  it('by two phones that missed each other is one deed', () => {
    const farm = farmSaid(ground)
    const deed = (person: PersonID) => doneDeed(farm, one(farm, 'deadhead'), 'deadheaded', today, person).facts
    expect(farmSaid(ground, deed(maren), deed('joe' as PersonID)).events.size).toBe(1)
  })

  it('which is cutting back closes the flush, and reopens it', () => {
    const farm = farmSaid(ground)
    const july = '2026-07-02' as Day
    const deed = doneDeed(farm, one(farm, 'cut_back', july), 'cut_back', july, maren)
    const done = farmSaid(ground, deed.facts)
    expect(done.beds.get(bed)!.cutBack.get(season)).toBe(july)
    expect(farmSaid(ground, deed.facts, deed.undo).beds.get(bed)!.cutBack.size).toBe(0)
    const later = undoneDeed(done, one(done, 'cut_back', july))
    expect(one(farmSaid(ground, deed.facts, later.facts), 'cut_back', july).state).toBe('due')
    expect(farmSaid(ground, deed.facts, later.facts, later.undo).beds.get(bed)!.cutBack.get(season)).toBe(july)
  })

  it('is undone later with the deed that it told', () => {
    const farm = farmSaid(ground)
    const { facts } = doneDeed(farm, one(farm, 'corral'), 'corralled', today, maren)
    const done = farmSaid(ground, facts)
    const { facts: off, undo } = undoneDeed(done, one(done, 'corral'))
    expect(one(farmSaid(ground, facts, off), 'corral')).toMatchObject({ state: 'due', person: '' })
    expect(one(farmSaid(ground, facts, off, undo), 'corral')).toMatchObject({ state: 'done' })
  })

  it('is ticked by crew where the deed is the owner’s to tell', () => {
    expect(deedsOf({ kind: 'cut_back' }, false)).toEqual(['tick'])
    expect(deedsOf({ kind: 'cut_back' }, true)).toEqual(['cut_back'])
    expect(deedsOf({ kind: 'corral' }, false)).toEqual(['netted', 'corralled'])
    const farm = farmSaid(ground)
    expect(doneDeed(farm, one(farm, 'cut_back'), 'tick', today, maren).facts.every(({ type }) => type === 'task')).toBe(true)
  })
})

describe('a task that waits or goes', () => {
  const farm = farmSaid(ground)
  it('is put off and taken back to where it was put before', () => {
    const first = putOffDeed(farm, one(farm, 'corral'), '2026-05-06' as Day)
    const put = farmSaid(ground, first.facts)
    expect(one(put, 'corral')).toMatchObject({ state: 'coming', putOff: '2026-05-06' })
    const second = putOffDeed(put, one(put, 'corral'), '2026-05-09' as Day)
    expect(one(farmSaid(ground, first.facts, second.facts, second.undo), 'corral').putOff).toBe('2026-05-06')
  })

  it('is dropped and brought back', () => {
    const { facts, undo } = droppedDeed(farm, one(farm, 'corral'), true)
    expect(one(farmSaid(ground, facts), 'corral').state).toBe('dropped')
    expect(one(farmSaid(ground, facts, undo), 'corral').state).toBe('due')
  })
})

it('an own task comes, goes and comes back', () => {
  const id = '5f0c9d8e-0000-4000-8000-000000000001' as TaskID
  const { facts, undo } = ownDeed(id, 'mend the fence', '2026-05-01' as Day, '')
  const away = ownGoneDeed(id)
  const held = (...more: readonly (readonly Fact[])[]) => tasksOf(farmSaid(ground, facts, ...more), today, undefined).filter(({ kind }) => kind === 'own').length
  expect([held(), held(undo), held(away.facts), held(away.facts, away.undo)]).toEqual([1, 0, 0, 1])
})
