import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { beforeAll, describe, expect, it } from 'vitest'
import type { Photo } from '../colourcard/measurement'
import { codeOf } from '../colourcard/testing/codes'
import { loadWasm } from '../scan/wasm_codes'
import { greyBy, readCodes, tagsIn } from './codes'

beforeAll(async () => {
  const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))
  await loadWasm(new Uint8Array(wasm).buffer)
})

interface Drawn {
  readonly text: string
  readonly x: number
  readonly y: number
}

/** A white photo with codes whose modules are so many pixels, their upper left corners where they are told. */
async function photoWith(width: number, height: number, pixels: number, ...codes: readonly Drawn[]): Promise<Photo> {
  const data = new Uint8ClampedArray(4 * width * height).fill(255)
  for (const { text, x, y } of codes) {
    for (const [i, dark] of (await codeOf(text)).entries()) {
      const [left, top] = [x + (i % 21) * pixels, y + Math.floor(i / 21) * pixels]
      for (let row = top; dark && row < top + pixels; row++) {
        for (let column = left; column < left + pixels; column++) data.fill(20, 4 * (row * width + column), 4 * (row * width + column) + 3)
      }
    }
  }
  return { data, width, height, space: 'srgb' }
}

describe('codes', () => {
  it('are read with their corners, upper left first and clockwise', async () => {
    const [code] = await readCodes(await photoWith(300, 300, 6, { text: 'CARD/1/K7M2QX', x: 80, y: 60 }))
    expect(code?.text).toBe('CARD/1/K7M2QX')
    const want = [[80, 60], [206, 60], [206, 186], [80, 186]]
    for (const [i, { x, y }] of (code?.corners ?? []).entries()) expect(Math.hypot(x - want[i]![0]!, y - want[i]![1]!)).toBeLessThan(3)
  })

  it('of tags are told apart from the card’s, also in a photo that is looked at smaller', async () => {
    const photo = await photoWith(3600, 1200, 14, { text: 'CARD/1/K7M2QX', x: 300, y: 300 }, { text: 'R4K 7M', x: 2400, y: 500 })
    expect(await tagsIn(photo)).toEqual(['R4K 7M'])
  })

  it('are none where there is none', async () => {
    expect(await tagsIn(await photoWith(200, 100, 1))).toEqual([])
  })
})

it('a smaller photo has the mean of each square', () => {
  const data = Uint8ClampedArray.from([0, 10, 0, 255, 0, 20, 0, 255, 9, 9, 9, 255, 0, 30, 0, 255, 0, 40, 0, 255, 9, 9, 9, 255])
  expect(greyBy({ data, width: 3, height: 2, space: 'srgb' }, 2)).toEqual({ data: Uint8ClampedArray.from([25, 25, 25, 255]), width: 1, height: 1, space: 'srgb' })
})
