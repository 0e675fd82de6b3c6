import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { batchCode, isMisread, isTagCode, normalCode, shownBatch, tagCode } from './tag_code'

interface Vectors {
  readonly blocks: readonly { readonly block: number; readonly codes: Readonly<Record<string, number>> }[]
  readonly codes: readonly string[]
  readonly none: readonly string[]
  /** Codes of batches by the random bytes that they are made of, in hexadecimal. */
  readonly batches: Readonly<Record<string, string>>
}

const vectors = JSON.parse(readFileSync(join(import.meta.dirname, '../../../testdata/vectors/codes.json'), 'utf8')) as Vectors

describe('tag codes', () => {
  it.each(vectors.blocks)('of block $block are those of the vectors', ({ block, codes }) => {
    for (const [code, at] of Object.entries(codes)) expect(tagCode(block, at)).toBe(code)
  })

  it.each(vectors.codes)('%s is one', (code) => expect(isTagCode(code)).toBe(true))
  it.each(vectors.none)('"%s" is none', (text) => expect(isTagCode(text)).toBe(false))

  it.each([
    ['a sign taken for another', '3T4 3FD', true], ['a sign that no code has', '3T4 3FO', true], ['two that changed places', '34T 3FP', true],
    ['the code as it is', '3t4 3fp', false], ['part of it', '3T4 3', false], ['a place', '2-1400', false], ['another farm’s way', 'Bed 12', false], ['words', 'Gate 4/7', false],
  ])('of a typed code it is known whether a sign is wrong: %s', (_, typed, misread) => expect(isMisread(typed)).toBe(misread))

  it.each([['3t4-3fp', '3T43FP'], [' 3T4 3FP ', '3T43FP'], ['Beet 4', 'BEET4'], ['n\u0303 1', 'Ñ1']])('%s is compared as %s', (typed, normal) => {
    expect(normalCode(typed)).toBe(normal)
  })
})

describe('the code of a batch of colour cards', () => {
  it.each(Object.entries(vectors.batches))('of the bytes %s is %s', (bytes, code) => {
    expect(batchCode(Buffer.from(bytes, 'hex'))).toBe(code)
    expect(normalCode(shownBatch(code))).toBe(code)
    expect(isTagCode(code)).toBe(true)
  })

  it('is not made of too few bytes', () => {
    expect(() => batchCode([255, 255, 0, 0, 0, 0])).toThrow(RangeError)
  })
})
