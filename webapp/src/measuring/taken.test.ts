import { describe, expect, it } from 'vitest'
import type { Measurement } from '../colourcard/measurement'
import { readingFacts } from '../crop/facts'
import type { CardID, Day, PhotoHash, PlantID, ReadingID } from '../crop/nouns'
import { farmSaid } from '../crop/testing/said'
import { boxOf, dayTold, readingOf, type Taken } from './taken'
import { takenWith } from './testing/taken'

const photo = '0a'.repeat(32) as PhotoHash
const now = { id: 'r' as ReadingID, plant: 'p' as PlantID, today: '2026-06-03' as Day, person: '' as const, photo, stage: 'full', light: 'shade' } as const

describe('a photo that was measured', () => {
  it('becomes a reading that the log keeps as it is', () => {
    const reading = readingOf(takenWith(), now)!
    expect(reading).toMatchObject({
      plant: 'p', date: '2026-06-03', spread: 84, spreadSE: 3, card: 'K7M2QX' as CardID, camera: 'back, 1920x1440', stage: 'full', light: 'shade', photo,
      head: { x: 0.125, y: 0.25, width: 0.25, height: 0.5 }, quality: 83, problems: ['uneven_light'],
    })
    expect(farmSaid(...readingFacts(reading).map((fact) => [fact])).readings.get(reading.id)).toMatchObject({ lab: reading.lab, spread: 84, head: reading.head })
  })

  it.each<[string, Partial<Measurement>]>([
    ['was refused', { refused: true }],
    ['has no colour', { lab: undefined }],
    ['has no uncertainty', { se: undefined }],
  ])('becomes none where it %s', (_, told) => {
    expect(readingOf(takenWith(told), now)).toBeUndefined()
  })

  it('tells no width where none was measured', () => {
    expect(readingOf(takenWith({ spread: undefined, spreadSE: undefined }), now)).toMatchObject({ spread: 0, spreadSE: 0 })
  })

  it.each([
    ['of the day on which its file says that it was taken', '2026-05-28', '2026-05-28'],
    ['of today where its camera’s clock is ahead', '2026-08-01', '2026-06-03'],
    ['of today where nothing is said', '', '2026-06-03'],
  ])('is %s', (_, day, date) => {
    expect(readingOf({ ...takenWith(), day: day as Day | '' }, now)?.date).toBe(date)
  })
})

it.each([
  ['camera saw now is of today', false, '', 'today'],
  ['file says is of today', true, '2026-06-03', 'today'],
  ['file says is of before', true, '2026-05-28', 'before'],
  ['file says is to come', true, '2026-08-01', 'ahead'],
  ['file does not say counts as today, and that is told', true, '', 'untold'],
] as const)('a day that the %s', (_, fromFile, day, told) => {
  expect(dayTold({ fromFile, day: day as Day | '' }, now.today)).toBe(told)
})

it('a head that reaches beyond the picture is told as far as the picture goes', () => {
  const taken: Pick<Taken, 'width' | 'height'> = { width: 100, height: 50 }
  expect(boxOf([{ x: -20, y: 10 }, { x: 50, y: 60 }], taken)).toEqual({ x: 0, y: 0.2, width: 0.5, height: 0.8 })
  expect(boxOf([], taken)).toBeUndefined()
})
