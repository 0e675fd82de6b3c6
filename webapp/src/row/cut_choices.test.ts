import { expect, it } from 'vitest'
import type { Day } from '../crop/nouns'
import { CutChoices } from './cut_choices'
import { day, walkOfEach } from './testing/walk'

const walk = walkOfEach()
const row = 'bed|ember'

it('a row that was ticked off stays so on this device until the day ends, and can be taken back', async () => {
  const choices = new CutChoices(walk.notebook)
  choices.tick(day, row, true)
  choices.tick(day, 'bed|oyster', true)
  expect(choices.isTicked(day, row)).toBe(true)
  await walk.settled()
  const later = new CutChoices(walk.notebook)
  expect([later.isTicked(day, row), later.isTicked('2026-06-04' as Day, row)]).toEqual([true, false])
  later.tick(day, row, false)
  await walk.settled()
  const again = new CutChoices(walk.notebook)
  expect([again.isTicked(day, row), again.isTicked(day, 'bed|oyster')]).toEqual([false, true])
})

it('until when, and how many stems a bucket holds, are kept too', async () => {
  const choices = new CutChoices(walk.notebook)
  expect([choices.ahead, choices.bucket]).toEqual([2, 100])
  choices.setAhead(0)
  choices.setBucket(80)
  await walk.settled()
  expect([new CutChoices(walk.notebook).ahead, new CutChoices(walk.notebook).bucket]).toEqual([0, 80])
})
