import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { batchOf, cardColours, cardHeight, cardWidth, codeModule, codeModules, codeX, codeY, patches, patchSide } from './geometry'

interface Vector {
  readonly Width: number
  readonly Height: number
  readonly Batch: string
  readonly Payload: string
  readonly Code: { readonly X: number; readonly Y: number; readonly Module: number; readonly Modules: number }
  readonly patch_side: number
  readonly Colours: readonly { readonly R: number; readonly G: number; readonly B: number }[]
  readonly Patches: readonly { readonly X: number; readonly Y: number; readonly Colour: number }[]
}

const vector = JSON.parse(readFileSync(new URL('../../../testdata/vectors/card.json', import.meta.url), 'utf8')) as Vector

describe('the card', () => {
  it('is read where it is printed', () => {
    expect([cardWidth, cardHeight, patchSide, codeModules]).toEqual([vector.Width, vector.Height, vector.patch_side, vector.Code.Modules])
    const code = [codeX, codeY, codeModule]
    for (const [i, want] of [vector.Code.X, vector.Code.Y, vector.Code.Module].entries()) expect(code[i]).toBeCloseTo(want, 9)
    expect(cardColours).toEqual(vector.Colours.map(({ R, G, B }) => [R, G, B]))
    expect(patches).toEqual(vector.Patches.map(({ X, Y, Colour }) => ({ x: X, y: Y, colour: Colour })))
  })

  it.each([
    ['CARD/1/K7M4QE', { version: 1, batch: 'K7M4QE' }],
    ['CARD/2/K7M4QE', { version: 2, batch: 'K7M4QE' }],
    ['R4K 7MC', undefined],
    ['CARD/1/', undefined],
    ['CARD//K7M4QE', undefined],
    ['https://example.org/CARD/1/K7M4QE', undefined],
  ])('names the batch of %s', (payload, batch) => {
    expect(batchOf(payload)).toEqual(batch)
  })

  it('has the batch that the vector names', () => {
    expect(batchOf(vector.Payload)?.batch).toBe(vector.Batch)
  })
})
