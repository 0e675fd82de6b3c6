import { describe, expect, it } from 'vitest'
import { ownTaskFacts } from '../crop/ahead_facts'
import type { TaskID } from '../crop/ahead_nouns'
import { bedFacts, plantFacts, plantingFacts, stockFacts } from '../crop/facts'
import type { BedID, Day, PlantID, PlantingID, StockID } from '../crop/nouns'
import { tasksOf } from '../crop/tasks'
import { bedWith, plantingWith, plantWith, stockWith } from '../crop/testing/nouns'
import { farmSaid } from '../crop/testing/said'
import { entriesOf } from './task_calendar'

const farm = farmSaid(
  bedFacts(bedWith({ id: 'b' as BedID, name: 'Long' })), stockFacts(stockWith({ id: 's' as StockID })), plantingFacts(plantingWith({ stock: 's' as StockID, bed: 'b' as BedID })),
  plantFacts(plantWith({ planting: 'g' as PlantingID, id: 'p' as PlantID })),
  ownTaskFacts('t1' as TaskID, { what: 'mend the fence', due: '2026-05-30' as Day }), ownTaskFacts('t2' as TaskID, { what: 'some day' }),
)

const entries = (today: string) => entriesOf(farm, tasksOf(farm, today as Day, undefined), today as Day)

describe('a task in a calendar', () => {
  it('has an id of its task and farm, its days, its place, why and its cautions', () => {
    const net = entries('2026-04-01').find(({ uid }) => uid === '2026.corral.b@f.corymb')
    expect(net).toMatchObject({ first: '2026-04-08', last: '2026-04-29', summary: 'Net or corral: Long', cancelled: false })
    expect(net!.description.split('\n')).toHaveLength(4)
    expect(net!.description).toContain('First cut usually around May 20')
  })

  it('in somebody’s own words stands on its day, and without a day nowhere', () => {
    expect(entries('2026-04-01').filter(({ uid }) => /^t[12]@/.test(uid)).map(({ first, last, summary }) => [first, last, summary])).toEqual([['2026-05-30', '2026-05-30', 'mend the fence']])
  })

  it('that is late lasts until today', () => {
    expect(entries('2026-05-05').find(({ uid }) => uid.startsWith('2026.corral'))).toMatchObject({ first: '2026-04-08', last: '2026-05-05' })
  })
})
