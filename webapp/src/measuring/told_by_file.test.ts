import sharp, { type Exif } from 'sharp'
import { describe, expect, it } from 'vitest'
import { adobeRGB, jpegOf, optionTIFF, profileOf } from '../colourcard/testing/jpeg'
import { toldByJPEG } from './told_by_file'

const photo = (space: 'srgb' | 'display-p3') => ({ data: new Uint8ClampedArray(4 * 8 * 8).fill(120), width: 8, height: 8, space })

/** A JPEG with EXIF and a profile as libvips writes them (sharp 0.35). */
function written(exif: Exif, profile?: string): Promise<Buffer> {
  const picture = sharp({ create: { width: 8, height: 8, channels: 3, background: 'red' } }).withExif(exif)
  return (profile === undefined ? picture : picture.withIccProfile(profile)).jpeg().toBuffer()
}

describe('a JPEG says', () => {
  it('that it is in sRGB where it says nothing', async () => {
    expect(toldByJPEG(await jpegOf(photo('srgb'), { quality: 90 }))).toEqual({ space: 'srgb', camera: '', day: '' })
  })

  it('that it is in Display P3, and behind its orientation too', async () => {
    expect(toldByJPEG(await jpegOf(photo('display-p3'), { quality: 90, orientation: 6 })).space).toBe('display-p3')
  })

  it.each([['p3', 'display-p3'], ['srgb', 'srgb']])('its space by the primaries of its profile: %s', async (profile, space) => {
    expect(toldByJPEG(await written({}, profile)).space).toBe(space)
  })

  it('that it is in neither, by the profile of another space as cameras say Adobe RGB, or by one that is broken', async () => {
    expect(toldByJPEG(await jpegOf(photo('srgb'), { quality: 90, profile: profileOf(adobeRGB) })).space).toBeUndefined()
    expect(toldByJPEG(await jpegOf(photo('srgb'), { quality: 90, exif: optionTIFF('R03') })).space).toBeUndefined()
    expect(toldByJPEG(await jpegOf(photo('srgb'), { quality: 90, exif: optionTIFF('R98') })).space).toBe('srgb')
    expect(toldByJPEG(await jpegOf(photo('srgb'), { quality: 90, profile: profileOf(adobeRGB).subarray(0, 150) })).space).toBeUndefined()
  })

  it('that it is in Display P3 where its EXIF is broken', async () => {
    expect(toldByJPEG(await jpegOf(photo('display-p3'), { quality: 90, exif: optionTIFF('R98').subarray(0, 12) })).space).toBe('display-p3')
  })

  it('which camera took it, its make once, and on which day', async () => {
    const exif = { IFD0: { Make: 'Lantern', Model: 'Lantern L5', DateTime: '2026:06:09 10:00:00' }, IFD2: { DateTimeOriginal: '2026:06:03 14:05:00' } }
    expect(toldByJPEG(await written(exif))).toMatchObject({ camera: 'Lantern L5', day: '2026-06-03' })
    expect(toldByJPEG(await written({ IFD0: { Make: 'Lantern', Model: 'L5', DateTime: '2026:06:09 10:00:00' } }))).toMatchObject({ camera: 'Lantern L5', day: '2026-06-09' })
  })

  it('no day that there is not', async () => {
    expect(toldByJPEG(await written({ IFD2: { DateTimeOriginal: '0000:00:00 00:00:00' } })).day).toBe('')
  })
})

describe('nothing is told', () => {
  it('by what is no JPEG, whose space the browser then sees to', async () => {
    const png = await sharp({ create: { width: 8, height: 8, channels: 3, background: 'red' } }).png().toBuffer()
    expect(toldByJPEG(png)).toEqual({ space: undefined, camera: '', day: '' })
    expect(toldByJPEG(new Uint8Array())).toEqual({ space: undefined, camera: '', day: '' })
  })

  it('by what is cut short or broken, and it does not fail', async () => {
    const whole = await written({ IFD0: { Make: 'Lantern', Model: 'L5' } }, 'p3')
    for (let length = 0; length < 700; length += 7) expect(() => toldByJPEG(whole.subarray(0, length))).not.toThrow()
    for (let at = 2; at < 700; at++) {
      const broken = Uint8Array.from(whole)
      broken[at]! ^= 0xff
      expect(() => toldByJPEG(broken)).not.toThrow()
    }
  })
})
