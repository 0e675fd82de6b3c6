import { describe, expect, it } from 'vitest'
import type { Member } from '../crop/member'
import type { Work, WorkID } from '../crop/money_nouns'
import type { BedID, Day, FarmID, PersonID } from '../crop/nouns'
import type { ChannelID } from '../crop/sale_nouns'
import { farmSaid } from '../crop/testing/said'
import { correctedDeed, goneDeed, mayPutRight, timedWork, workedDeed, workedOn } from './worked'

const id = 'w' as WorkID
const ana = 'ana' as PersonID
const work: Work = { id, date: '2026-05-28' as Day, person: ana, kind: 'cut', minutes: 95, bed: 'b' as BedID, channel: '', note: '' }

describe('work that is written down', () => {
  it('is read as it was meant, and gone once it is taken back', () => {
    const { facts, undo } = workedDeed(work)
    expect([...farmSaid(facts).money.work.values()]).toEqual([work])
    expect(farmSaid(facts, undo).money.work.size).toBe(0)
  })
  it('says nothing in the scope of money unless a channel is named: crew’s would be refused', () => {
    expect(workedDeed(work).facts.some(({ scope }) => scope === 'money')).toBe(false)
    expect(workedDeed({ ...work, channel: 'ch' as ChannelID }).facts.some(({ scope }) => scope === 'money')).toBe(true)
  })
  it('is put right in what differs alone, and back', () => {
    const now: Work = { ...work, minutes: 80, bed: '' }
    const { facts, undo } = correctedDeed(work, now)
    expect(facts.map(({ field }) => field)).toEqual(['minutes', 'bed'])
    const before = workedDeed(work).facts
    expect([...farmSaid(before, facts).money.work.values()]).toEqual([now])
    expect([...farmSaid(before, facts, undo).money.work.values()]).toEqual([work])
  })
  it('is taken away and brought back', () => {
    const { facts, undo } = goneDeed(id)
    expect(farmSaid(workedDeed(work).facts, facts).money.work.size).toBe(0)
    expect(farmSaid(workedDeed(work).facts, facts, undo).money.work.size).toBe(1)
  })
})

it('a timer leaves its work on the day on which it was started', () => {
  const since = new Date(2026, 4, 28, 23, 50).getTime()
  expect(timedWork(id, { kind: 'cut', since, person: ana, bed: 'b' as BedID }, 95)).toEqual(work)
})

it('the work of days is summed day by day', () => {
  const { money } = farmSaid(workedDeed(work).facts, workedDeed({ ...work, id: 'v' as WorkID, kind: 'bunch', minutes: 5 }).facts, workedDeed({ ...work, id: 'u' as WorkID, date: '2026-05-27' as Day }).facts)
  const days = workedOn(money, ['2026-05-28', '2026-05-27', '2026-05-26'] as Day[], ({ person }) => person)
  expect(days.map(({ day, minutes, work: all }) => [day, minutes, all.map(({ kind }) => kind).join()])).toEqual([
    ['2026-05-28', 100, 'bunch,cut'], ['2026-05-27', 95, 'cut'], ['2026-05-26', 0, ''],
  ])
})

describe('who may put work right', () => {
  const member = (role: Member['role'], person: string): Member => ({ farm: 'f' as FarmID, farmName: '', madeUp: false, person: person as PersonID, name: '', role, owners: [] })
  it.each<[string, Member | undefined, boolean]>([
    ['an owner', member('owner', 'olga'), true], ['whose it is', member('crew', 'ana'), true], ['other crew', member('crew', 'ben'), false],
    ['a viewer', member('viewer', 'ana'), false], ['a device that has not joined', undefined, true],
  ])('%s: %j', (_, who, want) => expect(mayPutRight(who, work)).toBe(want))
})
