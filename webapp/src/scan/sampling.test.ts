import { beforeEach, expect, it, vi } from 'vitest'
import { patience, watch } from './sampling'

beforeEach(() => {
  vi.useFakeTimers()
  return () => { vi.useRealTimers() }
})

const picture = {} as ImageData

/** Watches with a reader that takes so long, and tells what happened. */
function watching(took: number, text: () => string | undefined = () => undefined) {
  const told = { looks: 0, most: 0, codes: [] as string[], tired: 0, failures: [] as unknown[] }
  let atOnce = 0
  const stop = watch({
    picture: () => picture,
    decode: async () => {
      told.looks++
      told.most = Math.max(told.most, ++atOnce)
      await new Promise((done) => setTimeout(done, took))
      atOnce--
      return text()
    },
    onCode: (code) => told.codes.push(code),
    onTired: () => told.tired++,
    onFailure: (reason) => told.failures.push(reason),
  })
  return { told, stop }
}

it.each([
  ['quick one six times a second at most', 10, 5, 7],
  ['slow one half of the time at most', 1_000, 5, 5],
])('a %s, one picture at a time', async (_, took, least, most) => {
  const { told, stop } = watching(took)
  await vi.advanceTimersByTimeAsync(took === 10 ? 1_000 : 10_000)
  stop()
  expect(told.most).toBe(1)
  expect(told.looks).toBeGreaterThanOrEqual(least)
  expect(told.looks).toBeLessThanOrEqual(most)
})

it('stops when told, and tells nothing of the picture that was being read', async () => {
  const { told, stop } = watching(100, () => 'HKV 4J')
  await vi.advanceTimersByTimeAsync(200)
  stop()
  await vi.advanceTimersByTimeAsync(5_000)
  expect(told).toMatchObject({ looks: 1, codes: [] })
})

it('tires after a minute without a code, counted from the last one', async () => {
  let text: string | undefined = 'HKV 4J'
  const { told } = watching(10, () => text)
  await vi.advanceTimersByTimeAsync(patience)
  text = undefined
  await vi.advanceTimersByTimeAsync(patience - 1_000)
  expect(told.tired).toBe(0)
  await vi.advanceTimersByTimeAsync(2_000)
  expect(told.tired).toBe(1)
  const { looks } = told
  await vi.advanceTimersByTimeAsync(patience)
  expect(told.looks).toBe(looks)
})

it('waits for a camera that has no picture yet', async () => {
  let there: ImageData | undefined
  const codes: string[] = []
  const stop = watch({ picture: () => there, decode: () => Promise.resolve('A'), onCode: (text) => codes.push(text), onTired: () => {}, onFailure: () => {} })
  await vi.advanceTimersByTimeAsync(1_000)
  expect(codes).toEqual([])
  there = picture
  await vi.advanceTimersByTimeAsync(150)
  expect(codes).toEqual(['A'])
  stop()
})

it('ends with a reader that fails, and tells why', async () => {
  const failures: unknown[] = []
  let looks = 0
  watch({
    picture: () => picture, decode: () => { looks++; return Promise.reject(new Error('no wasm')) },
    onCode: () => {}, onTired: () => {}, onFailure: (reason) => failures.push(reason),
  })
  await vi.advanceTimersByTimeAsync(5_000)
  expect([looks, String(failures)]).toEqual([1, 'Error: no wasm'])
})
