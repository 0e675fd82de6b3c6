import { describe, expect, it } from 'vitest'
import { asPrinted } from '../colourcard/as_printed'
import type { CardID, Day } from '../crop/nouns'
import { cardWith, farmWith } from '../crop/testing/nouns'
import { isRetired, offBy } from '../measuring/known_cards'
import { uncertaintyOf } from '../measuring/uncertainty'
import { additionProblem, ageOf, cardOf, inOrder, isOld, newBatch, readNumber, referenceCards, scaleError, takenAs } from './cards'

const day = '2026-06-03' as Day
const on = (text: string) => text as Day

describe('the age of a batch', () => {
  it.each([
    ['', undefined, false], ['2026-06-03', 0, false], ['2026-06-02', 1, false], ['2025-04-29', 400, false], ['2025-04-28', 401, true],
    ['2026-06-04', 0, false], // by another device's calendar
  ])('printed %s', (printed, age, old) => {
    const card = cardWith({ printed: printed as Day | '' })
    expect([ageOf(card, day), isOld(card, day)]).toEqual([age, old])
  })
})

describe('what is known of a batch', () => {
  const measured = { patches: asPrinted.patches, se: 0.7, measured: day } as const

  it('is that it is as it was printed, before its colours were told', () => {
    expect(takenAs(cardWith())).toBe(asPrinted)
    expect(takenAs(cardWith({ ...measured, how: 'typed' }))).toMatchObject({ se: 0.7 })
  })

  it('leaves a photo off by as much as is said of a photo with such an uncertainty, averaged over the colours', () => {
    const each = asPrinted.patches.map((lab) => uncertaintyOf(lab, { L: 3, a: 3, b: 3 }))
    expect(offBy(asPrinted)).toBeGreaterThan(Math.min(...each))
    expect(offBy(asPrinted)).toBeLessThan(Math.max(...each))
    expect(offBy({ patches: asPrinted.patches.slice(0, 1), se: 3 })).toBeCloseTo(each[0]!, 9)
  })

  it('makes it a reference for others where it was measured, and not where it was taken as printed', () => {
    const [typed, beside, printed, none] = (['typed', 'beside', 'as_printed', ''] as const).map((how) => cardWith({ ...(how === '' ? {} : measured), id: `ID${how}` as CardID, how }))
    const farm = farmWith({ cards: [typed!, beside!, printed!, none!] })
    expect([...referenceCards(farm, day, typed!.id).keys()]).toEqual([beside!.id])
    expect([...referenceCards(farm, day, none!.id).keys()]).toEqual([typed!.id, beside!.id])
  })
})

it('lists those in use first, and the newest of each', () => {
  const ids = (...told: [string, string, string][]) => told.map(([id, printed, retired]) => cardWith({ id: id as CardID, printed: on(printed), retired: retired as Day | '' }))
  const cards = ids(['OLD', '2024-05-01', ''], ['GONE', '2026-05-20', '2026-06-01'], ['NEW', '2026-05-01', ''], ['UNTOLD', '', ''], ['LATER', '2026-04-01', '2026-06-04'])
  expect(inOrder(farmWith({ cards }), day).map(({ id }) => id)).toEqual(['NEW', 'LATER', 'OLD', 'UNTOLD', 'GONE'])
  expect(isRetired(cards[4]!, day)).toBe(false)
})

describe('a batch by its code', () => {
  const known = cardWith({ id: 'K7M4QE' as CardID, printed: on('2026-05-01') })
  const farm = farmWith({ cards: [known] })
  it('is the farm’s, or one of which nothing is told yet, or none', () => {
    expect(cardOf(farm, 'K7M4QE')).toBe(known)
    expect(cardOf(farm, '333334')).toMatchObject({ id: '333334', printed: '', how: '' })
    expect(cardOf(farm, '333335')).toBeUndefined()
    expect(cardOf(farm, '')).toBeUndefined()
  })

  it.each([
    ['k7m 4qe', '2026-05-01', 'known'], ['333335', '2026-05-01', 'code'], ['', '2026-05-01', 'code'], ['333-334', '2026-06-04', 'day'],
    ['333-334', '', 'day'], ['333-334', '2026-06-03', undefined],
  ] as const)('%s printed %s is added, or told why not: %s', (typed, printed, problem) => {
    expect(additionProblem(farm, typed, printed, day)).toBe(problem)
  })

  it('is new where it is made', () => {
    const made = Array.from({ length: 50 }, () => newBatch(farm))
    expect(new Set(made).size).toBe(50)
    expect(made.every((one) => cardOf(farmWith({}), one)?.id === one)).toBe(true)
  })
})

it.each([[0, 0], [80, 0], [79.2, -1], [82, 2.5]])('a scale that measures %d mm is off by %d in a hundred', (scale, off) => {
  expect(scaleError(cardWith({ scale }))).toBeCloseTo(off, 9)
})

it.each([
  ['52.3', 52.3], ['52,3', 52.3], [' -12,25 ', -12.25], ['−3', -3], ['–3.5', -3.5], ['0', 0], ['100', 100],
  ['', undefined], ['-', undefined], ['1.234,5', undefined], ['5e1', undefined], ['12a', undefined], ['.5', undefined], ['1234', undefined],
])('“%s” is read as %s', (typed, number) => {
  expect(readNumber(typed)).toBe(number)
})
