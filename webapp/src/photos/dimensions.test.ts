import { describe, expect, test } from 'vitest'
import { sizeTold } from './dimensions'
import { checkPixels, fitted } from './prepare'
import { PhotoProblem } from './problem'

/** A segment of a JPEG (ITU-T T.81, B.1.1.4): its length counts itself. */
function segment(marker: number, ...payload: number[]): number[] {
  return [0xff, marker, (payload.length + 2) >> 8, (payload.length + 2) & 255, ...payload]
}

const start = [0xff, 0xd8]
/** 12 bits a sample, 3000 lines of 4000 samples. */
const frame = [8, 0x0b, 0xb8, 0x0f, 0xa0, 3]
const png = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52, 0, 0, 0x0f, 0xa0, 0, 0, 0x0b, 0xb8]

describe('the size told at the beginning of a picture', () => {
  test.each<[string, number[]]>([
    ['a JPEG', [...start, ...segment(0xc0, ...frame)]],
    ['a progressive JPEG', [...start, ...segment(0xc2, ...frame)]],
    ['a JPEG behind EXIF, which may hold a picture of its own', [...start, ...segment(0xe1, ...start, ...segment(0xc0, 8, 0, 1, 0, 1, 3)), ...segment(0xc0, ...frame)]],
    ['a JPEG whose tables come first', [...start, ...segment(0xdb, 1, 2), ...segment(0xc4, 1, 2), ...segment(0xc0, ...frame)]],
    ['a JPEG with filling before a marker', [...start, 0xff, 0xff, ...segment(0xc0, ...frame)]],
    ['a PNG', png],
  ])('is read of %s', (_, bytes) => {
    expect(sizeTold(new Uint8Array(bytes))).toEqual({ width: 4000, height: 3000 })
  })

  test.each<[string, number[]]>([
    ['nothing', []],
    ['something else', [...new TextEncoder().encode('RIFF....WEBPVP8 ')]],
    ['a JPEG that ends before', [...start, ...segment(0xc0, ...frame).slice(0, 6)]],
    ['a JPEG whose picture begins without a frame', [...start, ...segment(0xe0, 1), 0x00, 0x00, 0x00, 0x00]],
    ['a PNG that ends before', png.slice(0, 20)],
  ])('is unknown of %s', (_, bytes) => {
    expect(sizeTold(new Uint8Array(bytes))).toBeUndefined()
  })

  test('is read where the bytes lie in the middle of others', () => {
    const all = new Uint8Array([1, 2, 3, ...png])
    expect(sizeTold(all.subarray(3))).toEqual({ width: 4000, height: 3000 })
  })
})

describe('what a picture is made into', () => {
  test.each([
    [4000, 3000, 2560, 1920],
    [3000, 4000, 1920, 2560],
    [2560, 100, 2560, 100],
    [640, 400, 640, 400],
    [100_000, 10, 2560, 1],
  ])('%d by %d fits as %d by %d', (width, height, wide, high) => {
    expect(fitted({ width, height }, 2560)).toEqual({ width: wide, height: high })
  })

  test('64 million pixels are taken, and not one row more', () => {
    expect(() => checkPixels({ width: 8000, height: 8000 })).not.toThrow()
    expect(() => checkPixels({ width: 8000, height: 8001 })).toThrow(PhotoProblem)
  })
})
