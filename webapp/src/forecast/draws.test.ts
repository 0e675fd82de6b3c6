import { describe, expect, it } from 'vitest'
import type { ColourID, Day } from '../crop/nouns'
import { unpackDraws, weekDayOf } from './draws'

const packed = {
  n: 1, from: '2026-05-28' as Day, weeks: ['2026-05-25', '2026-06-01'] as Day[], colours: ['' as ColourID | ''], lengths: [0],
  // 300 as two bytes, then one zero, 5, 7; then the second week: four zeros as one run.
  stems: btoa(String.fromCharCode(0xac, 0x02, 0, 0, 5, 7, 0, 3)),
  days: btoa(String.fromCharCode(0, 0, 0, 100, 200, 255, 255, 10, 20, 30, 40, 50, 60, 255)),
}

describe('draws', () => {
  it('come out as they were packed', () => {
    const draws = unpackDraws(packed)
    expect([...draws.stems]).toEqual([300, 0, 5, 7, 0, 0, 0, 0])
    expect(draws.days[3]).toBe(100)
  })

  it.each([
    ['stems that are cut off', { ...packed, stems: btoa(String.fromCharCode(0xac)) }],
    ['too few stems', { ...packed, stems: btoa(String.fromCharCode(1)) }],
    ['too many stems', { ...packed, stems: btoa(String.fromCharCode(1, 0, 7)) }],
    ['too few days', { ...packed, days: btoa('1') }],
  ])('are refused with %s', (_, broken) => {
    expect(() => unpackDraws(broken)).toThrow('reading the forecast')
  })

  it.each([
    ['2026-05-25', { week: 0, weekday: 0 }],
    ['2026-05-31', { week: 0, weekday: 6 }],
    ['2026-06-03', { week: 1, weekday: 2 }],
    ['2026-05-24', undefined],
    ['2026-06-08', undefined],
  ])('find the week of %s', (day, found) => {
    expect(weekDayOf(unpackDraws(packed), day as Day)).toEqual(found)
  })
})
