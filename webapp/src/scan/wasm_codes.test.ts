import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import { greyPixels } from './testing/png'
import { codesIn, loadWasm } from './wasm_codes'

const tags = join(import.meta.dirname, '../../../testdata/tags')

const picture = (name: string) => greyPixels(readFileSync(join(tags, `${name}.png`)))

beforeAll(async () => {
  const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))
  await loadWasm(new Uint8Array(wasm).buffer)
})

describe('a tag is read', () => {
  // Drawn by testdata/tags/make.go from the codes of rsc.io/qr, which says there how each comes about.
  it.each([
    ['plain', 'HKV 4J'], ['turned', 'AC3 7W'], ['tilted', 'QTP 96'], ['dim', 'NXD 3U'], ['blurred', 'MRE 6F'], ['faded', 'VYG 9C'],
  ])('%s', async (name, code) => {
    expect((await codesIn(picture(name))).map(({ text }) => text)).toEqual([code])
  })

  it('with where its middle is', async () => {
    const [seen] = await codesIn(picture('turned'))
    expect(Math.abs((seen?.x ?? 0) - 120) + Math.abs((seen?.y ?? 0) - 120)).toBeLessThan(6)
  })
})

it('a tag far out of focus gives no code, and no wrong one', async () => {
  expect(await codesIn(picture('unreadable'))).toEqual([])
})

it('of two tags in sight both are read, each where it stands', async () => {
  const [left, right] = [picture('plain'), picture('faded')]
  const data = new Uint8ClampedArray(2 * left.data.length)
  const line = 4 * left.width
  for (let y = 0; y < left.height; y++) {
    data.set(left.data.subarray(y * line, (y + 1) * line), 2 * y * line)
    data.set(right.data.subarray(y * line, (y + 1) * line), (2 * y + 1) * line)
  }
  const seen = await codesIn({ data, width: 2 * left.width, height: left.height, colorSpace: 'srgb' } as ImageData)
  expect(seen.toSorted((a, b) => a.x - b.x).map(({ text, x }) => [text, Math.round(x / left.width - 0.5)])).toEqual([['HKV 4J', 0], ['VYG 9C', 1]])
})
