import { describe, expect, it } from 'vitest'
import type { BedID, PlantID } from '../crop/nouns'
import { plantWith } from '../crop/testing/nouns'
import type { Head, Picture, Stood } from './bed_picture'
import { blocksOf, linesOf, renewed, tooFar, unknownPlace } from './bed_picture_blocks'

function head(line: number, number: number, seedling = false): Head {
  const code = `${line}-${number}${seedling ? 'w' : ''}`
  return { plant: plantWith({ id: code as PlantID, code }), on: { bed: 'b' as BedID, line, number }, seedling } as Head
}

function pictureWith(heads: readonly Head[], unplaced: readonly Stood[] = []): Picture {
  return { heads, unplaced, far: [], gaps: [], gapsFar: 0, season: 2026 } as unknown as Picture
}

const codes = (blocks: ReturnType<typeof blocksOf>) => blocks.map(({ stood }) => stood.map(({ plant }) => plant.code).join(' '))

describe('the list of a picture', () => {
  it('goes line by line and number by number, a seedling after its plant, those without a place last', () => {
    const blocks = blocksOf(pictureWith([head(2, 1), head(1, 2), head(1, 1, true), head(1, 1)], [head(0, 0)]))
    expect(codes(blocks)).toEqual(['1-1 1-1w 1-2', '2-1', '0-0'])
    expect(linesOf(blocks).map(([line]) => line)).toEqual([1, 2, 0])
    const slip = head(1, 9_999)
    expect(linesOf(blocksOf({ ...pictureWith([head(1, 1)], [head(0, 0)]), far: [slip] })).map(([line, of]) => [line, codes(of)])).toEqual([[1, ['1-1']], [tooFar, ['1-9999']], [unknownPlace, ['0-0']]])
  })

  it('lists every plant once', () => {
    const heads = [1, 2, 3].flatMap((line) => Array.from({ length: 57 }, (_, i) => head(line, i + 1)))
    const all = blocksOf(pictureWith(heads)).flatMap(({ stood }) => stood)
    expect(new Set(all)).toEqual(new Set(heads))
    expect(all).toHaveLength(heads.length)
  })

  it('is renewed block by block, and whole in the end', () => {
    const before = blocksOf(pictureWith([head(1, 1), head(1, 30), head(3, 1)]))
    const now = blocksOf(pictureWith([head(1, 1), head(1, 30), head(2, 1)]))
    expect(renewed([], now, 1)).toEqual([now[0]])
    expect(renewed(before, now, 1)).toEqual([now[0], before[1]])
    expect(renewed(before, now, now.length)).toBe(now)
  })
})
