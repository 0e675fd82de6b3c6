import { signal } from '@preact/signals'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { soundOnce } from './alarm'

let alarms: number

beforeEach(() => {
  alarms = 0
  vi.stubGlobal('navigator', { vibrate: () => { alarms++ } })
  vi.stubGlobal('AudioContext', class { constructor() { throw new Error('no sound device') } })
})

afterEach(() => { vi.unstubAllGlobals() })

const full = new Error('full')
const cases: [string, readonly unknown[], number][] = [
  ['is still where nothing failed', [undefined, undefined], 0],
  ['sounds once however often one comes back to Row', [full, full, full], 1],
  ['sounds again for another failure, though it says the same', [full, new Error('full')], 2],
  ['sounds again for the same after something was kept', [full, undefined, full], 2],
]
it.each(cases)('the alarm %s', (_, failures, times) => {
  const failure = signal<unknown>(undefined)
  const walk = { failure }
  for (const one of failures) {
    failure.value = one
    soundOnce(walk)
  }
  expect(alarms).toBe(times)
})

it('each walk has an alarm of its own', () => {
  for (const walk of [{ failure: signal(full) }, { failure: signal(full) }]) soundOnce(walk)
  expect(alarms).toBe(2)
})
