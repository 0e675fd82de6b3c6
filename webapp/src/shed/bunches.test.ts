import { describe, expect, it } from 'vitest'
import { bunched, bunchSizeFrom, stemsAdded } from './bunches'

describe('bunches', () => {
  it.each([['bunch', 10, 10], ['five', 10, 50], ['stem', 10, 1], ['bunch', 12, 12]] as const)('a tap of %s with bunches of %d adds %d', (adds, size, stems) => {
    expect(stemsAdded(adds, size)).toBe(stems)
  })

  it.each([[34, 10, 3, 4], [30, 10, 3, 0], [9, 10, 0, 9], [0, 10, 0, 0], [125, 25, 5, 0]])('%d stems in bunches of %d are %d and %d loose', (stems, size, bunches, loose) => {
    expect(bunched(stems, size)).toEqual({ bunches, loose })
  })

  it.each([['10', 10], [' 25 ', 25], ['1', undefined], ['101', undefined], ['2.5', undefined], ['', undefined]])('a size of "%s" is %s', (text, size) => {
    expect(bunchSizeFrom(text)).toBe(size)
  })
})
