import { describe, expect, it } from 'vitest'
import { drawing, namesApart, warmthPaths, warmthScale } from './warmth_scale'

describe('the picture of sums', () => {
  it('holds its first day and nothing at the lower left, and its last and most within', () => {
    const { x, y, ticks } = warmthScale(-31, 90, 430)
    expect([x(-31), y(0)]).toEqual([drawing.left, drawing.height - drawing.bottom])
    expect(x(90)).toBe(drawing.width - drawing.right)
    expect(y(430)).toBeGreaterThanOrEqual(drawing.top)
    expect(ticks).toEqual([0, 200, 400, 600])
  })

  it('draws told days in one line and estimated ones apart, each from a told day to a told day', () => {
    const days = [[1, true], [2, false], [3, true], [4, true]].map(([sum, told]) => ({ degreeDays: 1, sum: sum as number, told: told as boolean }))
    const { told, estimated } = warmthPaths(0, days, (sum) => sum, { x: (day) => day, y: (sum) => sum, ticks: [] })
    expect(told).toBe('M0.0 1.0M2.0 3.0L3.0 4.0')
    expect(estimated).toBe('M0.0 1.0L1.0 2.0M1.0 2.0L2.0 3.0')
  })

  it('writes no name on another', () => {
    const ys = namesApart([{ x: 600, y: 40 }, { x: 590, y: 44 }, { x: 100, y: 42 }, { x: 600, y: 200 }]).map(({ y }) => y)
    expect(ys).toEqual([40, 42, 74, 200])
  })

  it('stands for one day without any warmth', () => {
    const { x, y } = warmthScale(0, 0, 0)
    expect([x(0), y(0)].every(Number.isFinite)).toBe(true)
  })
})
