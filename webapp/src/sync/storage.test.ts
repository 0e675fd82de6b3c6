// When the browser is asked to keep what is stored.

import { expect, test } from 'vitest'
import { storageWatch } from './storage'

/** A browser that never grants it; what it is asked is noted. */
function refusing(asked: string[]): StorageManager {
  const note = <T>(what: string, answer: T) => () => (asked.push(what), Promise.resolve(answer))
  const parts = { persisted: note('persisted', false), persist: note('persist', false), estimate: note('estimate', { usage: 1, quota: 1e9 }) }
  return parts as unknown as StorageManager
}

const settled = () => new Promise(done => setTimeout(done, 0))

test('persistence is asked for at opening and once more after the first record; else it is only looked', async () => {
  const asked: string[] = []
  const told: unknown[] = []
  const watch = storageWatch({ manager: refusing(asked) }, facts => told.push(facts))
  await settled()
  watch.look()
  await settled()
  expect(asked).toEqual(['persisted', 'persist', 'estimate', 'persisted', 'estimate'])
  watch.recorded()
  await settled()
  watch.recorded()
  await settled()
  expect(asked.slice(5)).toEqual(['persisted', 'persist', 'estimate'])
  expect(told).toEqual(Array.from({ length: 3 }, () => ({ persisted: false, usage: 1, quota: 1e9 })))
})
