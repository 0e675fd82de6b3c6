import { signal } from '@preact/signals'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { Notebook } from '../sync/notebook'
import { atMoment, nowOf } from './clock'

const start = Date.UTC(2026, 5, 3, 12)
const minute = 60_000

beforeEach(() => { vi.useFakeTimers({ now: start }) })
afterEach(() => { vi.useRealTimers() })

describe('the moment', () => {
  it.each([
    ['is the phone’s where the shed has told nothing', undefined, 0],
    ['is the shed’s where the phone is behind', 3 * 60 * minute, 3 * 60 * minute],
    ['is the shed’s where the phone is ahead', -5 * minute, -5 * minute],
  ])('%s', (_, clockOffset, off) => {
    expect(nowOf({ sync: signal({ clockOffset }) } as unknown as Notebook)).toBe(start + off)
  })
})

describe('waiting for a moment', () => {
  it.each([0, 1, minute, 90 * minute + 7, 48 * 60 * minute])('%d ms ahead ends at that moment, and not before', (ahead) => {
    const then = vi.fn()
    atMoment(start + ahead, Date.now, then)
    vi.advanceTimersByTime(Math.max(0, ahead - 1))
    expect(then).toHaveBeenCalledTimes(ahead === 0 ? 1 : 0)
    vi.advanceTimersByTime(1)
    expect(then).toHaveBeenCalledOnce()
  })

  it('ends within a minute where the clock was set ahead meanwhile', () => {
    const then = vi.fn()
    atMoment(start + 48 * 60 * minute, Date.now, then)
    vi.setSystemTime(start + 49 * 60 * minute)
    vi.advanceTimersByTime(minute)
    expect(then).toHaveBeenCalledOnce()
  })

  it('follows the shed’s clock and not the phone’s', () => {
    const then = vi.fn()
    atMoment(start + 60 * minute, () => Date.now() + 50 * minute, then)
    vi.advanceTimersByTime(10 * minute)
    expect(then).toHaveBeenCalledOnce()
  })

  it('that was called off never ends', () => {
    const then = vi.fn()
    atMoment(start + minute, Date.now, then)()
    vi.advanceTimersByTime(10 * minute)
    expect(then).not.toHaveBeenCalled()
  })
})
