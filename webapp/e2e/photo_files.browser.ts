// A photo's file has the same pixels on the phone and in the measuring command: what is proven of one holds for the other.

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium, type Browser, type Page } from 'playwright-core'
import { build, type Rollup } from 'vite'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openPhoto } from '../measure/open'
import type { Photo } from '../src/colourcard/measurement'
import { realCodes } from '../src/colourcard/testing/codes'
import { jpegOf, type Kept } from '../src/colourcard/testing/jpeg'
import { render } from '../src/colourcard/testing/render'
import { drawScene } from '../src/colourcard/testing/scenes'
import { toldByJPEG } from '../src/measuring/told_by_file'
import { launching } from './phone'

let browser: Browser
let page: Page
let folder: string
const photos = new Map<Photo['space'], Photo>()

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'photo-files-'))
  const codes = await realCodes()
  for (const space of ['srgb', 'display-p3'] as const) {
    const { scene } = drawScene(3, 'light', codes, { width: 640, height: 480 })
    photos.set(space, render({ ...scene, camera: { ...scene.camera, space } }).photo)
  }
  browser = await chromium.launch(launching())
  page = await browser.newPage()
  await page.addScriptTag({ content: await script() })
}, 120_000)

afterAll(async () => {
  await browser.close()
  rmSync(folder, { recursive: true })
})

/** The app's own opening of files, as one script. */
async function script(): Promise<string> {
  const entry = join(import.meta.dirname, '../src/measuring/pictures.ts')
  const built = await build({ configFile: false, logLevel: 'silent', build: { write: false, minify: false, lib: { entry, formats: ['iife'], name: 'pictures' } } })
  const [output] = (Array.isArray(built) ? built : [built]) as Rollup.RollupOutput[]
  return output!.output[0].code
}

async function onPhone(jpeg: Uint8Array, full = false): Promise<Photo> {
  const { space } = toldByJPEG(jpeg)
  const { data, ...rest } = await page.evaluate(async ([base64, space, full]) => {
    const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))
    const { filePixels } = (window as unknown as { pictures: { filePixels: (file: Blob, space: string | undefined, full: boolean) => Promise<{ photo: Photo }> } }).pictures
    const { photo } = await filePixels(new Blob([bytes], { type: 'image/jpeg' }), space, full)
    let text = ''
    for (let i = 0; i < photo.data.length; i += 30_000) text += String.fromCharCode(...photo.data.subarray(i, i + 30_000))
    return { ...photo, data: btoa(text) }
  }, [Buffer.from(jpeg).toString('base64'), space, full] as const)
  return { ...rest, data: new Uint8ClampedArray(Buffer.from(data, 'base64')) }
}

describe('a file comes out as the command reads it', () => {
  it.each<[string, Photo['space'], Partial<Kept>]>([
    ['as it lies', 'srgb', {}],
    ['turned by EXIF', 'srgb', { orientation: 6 }],
    ['mirrored by EXIF', 'srgb', { orientation: 7 }],
    ['in Display P3', 'display-p3', { halved: false }],
    ['in Display P3, progressive and turned', 'display-p3', { orientation: 8, progressive: true }],
  ])('%s', async (name, space, how) => {
    const photo = photos.get(space)!
    const jpeg = await jpegOf(photo, { quality: 90, ...how })
    const file = join(folder, `${name}.jpg`)
    writeFileSync(file, jpeg)
    const [phone, command] = [await onPhone(jpeg), await openPhoto(file)]
    expect([phone.width, phone.height, phone.space]).toEqual([photo.width, photo.height, space])
    expect([command.width, command.height, command.space]).toEqual([photo.width, photo.height, space])
    const off = apart(phone, command)
    expect(off.mean, 'mean difference of a channel').toBeLessThan(0.3)
    // Decoders enlarge the halved colour each in its own way, where colours meet.
    expect(off.beyond, 'share of channels that differ by more than 3').toBeLessThan(how.halved === false ? 1e-4 : 0.02)
  })
})

it('a large file is opened at half of its size, each pixel the mean of four', async () => {
  const { width, height, data } = photos.get('srgb')!
  // As wide as files are halved from, and little else.
  const wide: Photo = { width: 6 * width, height, space: 'srgb', data: new Uint8ClampedArray(24 * width * height) }
  for (let y = 0; y < height; y++) for (let k = 0; k < 6; k++) wide.data.set(data.subarray(4 * y * width, 4 * (y + 1) * width), 4 * width * (6 * y + k))
  const jpeg = await jpegOf(wide, { quality: 90 })
  const off = apart(await onPhone(jpeg), halfOf(await onPhone(jpeg, true)))
  expect(off).toEqual({ mean: expect.closeTo(0, 0), beyond: 0 })
})

function halfOf({ data, width, height, space }: Photo): Photo {
  const half: Photo = { data: new Uint8ClampedArray(width * height), width: width / 2, height: height / 2, space }
  for (let y = 0; y < half.height; y++) {
    for (let i = 0; i < 2 * width; i++) {
      const at = 8 * y * width + 8 * (i >> 2) + (i & 3)
      half.data[2 * y * width + i] = (data[at]! + data[at + 4]! + data[at + 4 * width]! + data[at + 4 * width + 4]!) / 4
    }
  }
  return half
}

function apart(a: Photo, b: Photo): { readonly mean: number; readonly beyond: number } {
  let [sum, beyond] = [0, 0]
  for (let i = 0; i < a.data.length; i++) {
    const off = Math.abs(a.data[i]! - b.data[i]!)
    sum += off
    if (off > 3) beyond++
  }
  return { mean: sum / a.data.length, beyond: beyond / a.data.length }
}
