import { beforeEach, describe, expect, it, vi } from 'vitest'
import { contest, decode } from './decode'
import type { Reader, Seen } from './reader'

const seen: readonly Seen[] = [{ text: 'HKV 4J', x: 5, y: 5 }]

class Picture {
  readonly data: Uint8ClampedArray
  readonly width: number
  readonly height: number
  constructor(data: Uint8ClampedArray, width: number, height: number) {
    this.data = data
    this.width = width
    this.height = height
  }
}

const picture = () => new Picture(new Uint8ClampedArray(4), 10, 10) as unknown as ImageData

let clock = 0

beforeEach(() => {
  clock = 0
  vi.spyOn(performance, 'now').mockImplementation(() => clock)
  vi.stubGlobal('ImageData', Picture)
  return () => {
    vi.restoreAllMocks()
    vi.unstubAllGlobals()
  }
})

type Took = (nth: number) => number | 'fails'

/** A reader that takes so many milliseconds, or fails. */
function reader(took: Took, found = seen) {
  let reads = 0
  return {
    get reads() {
      return reads
    },
    closed: 0,
    read: () => {
      const time = took(reads++)
      if (time === 'fails') return Promise.reject(new Error('no service'))
      clock += time
      return Promise.resolve(found)
    },
    close() {
      this.closed++
    },
  }
}

async function readOften(of: Reader, times: number): Promise<void> {
  for (let i = 0; i < times; i++) await of.read(picture())
}

describe('of two readers', () => {
  it.each<[string, Took, Took, 'own' | 'wasm']>([
    ['the browser’s own goes on alone where it is quicker', () => 5, () => 9, 'own'],
    ['the app’s goes on alone where it is quicker', () => 90, () => 9, 'wasm'],
    ['the time to start counts for neither', () => 5, (nth: number) => (nth === 0 ? 900 : 4), 'wasm'],
    ['the one that works goes on, at once', () => 'fails', () => 9, 'wasm'],
    ['the other likewise', () => 90, () => 'fails', 'own'],
  ])('%s', async (_, ownTook, wasmTook, winner) => {
    const readers = { own: reader(ownTook), wasm: reader(wasmTook) }
    const decided: string[] = []
    await readOften(contest(readers, (name) => decided.push(name)), 10)
    expect(decided).toEqual([winner])
    const loser = winner === 'own' ? readers.wasm : readers.own
    expect(readers[winner].reads).toBe(10)
    expect(loser.reads).toBeLessThanOrEqual(4)
    expect([readers[winner].closed, loser.closed]).toEqual([0, 1])
  })

  it('what either finds is found while both read', async () => {
    const both = contest({ own: reader(() => 1, []), wasm: reader(() => 1) }, () => {})
    expect(await both.read(picture())).toEqual(seen)
  })

  it('it is told when neither works', async () => {
    const both = contest({ own: reader(() => 'fails'), wasm: reader(() => 'fails') }, () => {})
    await expect(both.read(picture())).rejects.toThrow('no service')
  })
})

it.each([
  ['the one in the middle of several', [{ text: 'A', x: 1, y: 1 }, { text: 'B', x: 6, y: 5 }, { text: 'C', x: 9, y: 2 }], 'B'],
  ['none of none', [], undefined],
])('the code that is meant is %s', async (_, codes, text) => {
  expect(await decode(reader(() => 1, codes), picture())).toBe(text)
})
