import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { difference } from '../src/colour/difference'
import { realCodes } from '../src/colourcard/testing/codes'
import { adobeRGB, jpegOf, optionTIFF, profileOf, type Kept } from '../src/colourcard/testing/jpeg'
import { render, type Rendered } from '../src/colourcard/testing/render'
import type { Scene } from '../src/colourcard/testing/scene'
import { drawScene } from '../src/colourcard/testing/scenes'
import { BadCards, cardsIn } from './known'
import { openPhoto, Unreadable } from './open'
import { measureFiles, type Line } from './photos'

vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 })

let folder: string
let scene: Scene
let shown: Rendered

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'measure-'))
  scene = drawScene(5, 'plain', await realCodes(), { width: 1000, height: 750 }).scene
  shown = render(scene)
})

afterAll(() => rmSync(folder, { recursive: true }))

function file(name: string, bytes: Uint8Array): string {
  writeFileSync(join(folder, name), bytes)
  return join(folder, name)
}

const kept = async (name: string, how: Partial<Kept> = {}, photo = shown.photo) => file(name, await jpegOf(photo, { quality: 92, ...how }))

interface Answer {
  readonly lines: readonly Line[]
  readonly complaints: readonly string[]
  readonly all: boolean
}

async function answered(...files: readonly string[]): Promise<Answer> {
  const [lines, complaints]: [Line[], string[]] = [[], []]
  const all = await measureFiles(files, new Map([['6GRATJ', shown.card]]), { line: (line) => lines.push(line), complaint: (sentence) => complaints.push(sentence) })
  return { lines, complaints, all }
}

function near(line: Line | undefined): void {
  expect(line?.card).toBe('6GRATJ')
  const [L, a, b] = line?.lab ?? [NaN, NaN, NaN]
  expect(difference({ L, a, b }, shown.truth.lab).total).toBeLessThan(3)
  expect(Math.abs((line?.spread_cm ?? NaN) / shown.truth.spread - 1)).toBeLessThan(0.05)
}

describe('a photo is measured', () => {
  it.each<[string, Partial<Kept>]>([
    ['as it lies', {}], ['turned by EXIF to the right', { orientation: 6 }], ['mirrored and turned by EXIF', { orientation: 5 }], ['upside down by EXIF', { orientation: 3 }],
    ['of progressive JPEG', { progressive: true }], ['of whole colour', { halved: false }],
  ])('%s', async (name, how) => {
    const { lines: [line], all } = await answered(await kept(`${name}.jpg`, how))
    near(line)
    expect(all).toBe(true)
  })

  it('in Display P3', async () => {
    const wide = render({ ...scene, camera: { ...scene.camera, space: 'display-p3' } })
    near((await answered(await kept('p3.jpg', {}, wide.photo))).lines[0])
  })

  it('as PNG', async () => {
    const { data, width, height } = shown.photo
    near((await answered(file('photo.png', await sharp(data, { raw: { width, height, channels: 4 } }).png().toBuffer()))).lines[0])
  })
})

it('a photo without a card is refused, which is an answer', async () => {
  const grey = await sharp({ create: { width: 800, height: 600, channels: 3, background: '#789' } }).jpeg().toBuffer()
  const { lines, complaints, all } = await answered(file('grey.jpg', grey))
  expect(lines).toEqual([{ file: join(folder, 'grey.jpg'), card: null, lab: null, se: null, spread_cm: null, spread_se_cm: null, quality: 0, problems: ['no_card'] }])
  expect({ complaints, all }).toEqual({ complaints: [], all: true })
})

describe('what cannot be read is told in a sentence, and the others are measured', () => {
  const red = sharp({ create: { width: 64, height: 64, channels: 3, background: 'red' } })
  const heic = Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic\0\0\0\0mif1heic', 'latin1')])
  it.each<[string, () => Promise<Uint8Array>, RegExp]>([
    ['an HEIC picture', async () => heic, /HEIC.*JPEG/],
    ['a WebP picture', () => red.clone().webp().toBuffer(), /WebP.*JPEG/],
    ['an AVIF picture', () => red.clone().avif().toBuffer(), /AVIF/],
    ['a TIFF picture', () => red.clone().tiff().toBuffer(), /TIFF/],
    ['an empty file', async () => Buffer.alloc(0), /empty/],
    ['a text', async () => Buffer.from('no picture'), /no JPEG or PNG/],
    ['CMYK', () => red.clone().toColourspace('cmyk').jpeg().toBuffer(), /CMYK/],
    ['greys', () => red.clone().toColourspace('b-w').jpeg().toBuffer(), /no colours/],
    ['a JPEG that is cut short', async () => (await jpegOf(shown.photo, { quality: 90 })).subarray(0, 30_000), /cut short/],
    ['a JPEG of which only the beginning came', async () => (await jpegOf(shown.photo, { quality: 90 })).subarray(0, 640), /cut short/],
    ['Adobe RGB', () => jpegOf(shown.photo, { quality: 90, profile: profileOf(adobeRGB) }), /colour space.*sRGB/],
    ['Adobe RGB as cameras say it', () => jpegOf(shown.photo, { quality: 90, exif: optionTIFF('R03') }), /colour space.*sRGB/],
    ['a profile that is broken', () => jpegOf(shown.photo, { quality: 90, profile: profileOf(adobeRGB).subarray(0, 150) }), /colour space/],
  ])('%s', async (name, bytes, sentence) => {
    const bad = file(name, await bytes())
    const { lines, complaints, all } = await answered(bad, await kept('good.jpg'))
    expect(lines[0]).toMatchObject({ file: bad, card: null, lab: null, quality: 0 })
    expect(lines[0]?.problems).toHaveLength(1)
    expect(lines[0]?.problems[0]).toMatch(sentence)
    expect(complaints).toEqual([`${bad}: ${lines[0]?.problems[0]}`])
    expect(all).toBe(false)
    near(lines[1])
  })

  it('a file that is not there', async () => {
    await expect(openPhoto(join(folder, 'none.jpg'))).rejects.toThrow(Unreadable)
  })
})

describe('cards', () => {
  const patches = Array.from({ length: 12 }, (_, i) => [8 * i, 0.5, -1])

  it('are read by their batches', async () => {
    const name = file('cards.json', Buffer.from(JSON.stringify({ K7M2QX: { patches, se: 0.4 }, R4K7MC: { patches, se: 1, scale: 0.97, retired: true } })))
    const cards = await cardsIn(name)
    expect(cards.get('K7M2QX')).toMatchObject({ se: 0.4, scale: 1, retired: false })
    expect(cards.get('K7M2QX')?.patches[2]).toEqual({ L: 16, a: 0.5, b: -1 })
    expect(cards.get('R4K7MC')).toMatchObject({ scale: 0.97, retired: true })
  })

  it.each<[string, unknown, RegExp]>([
    ['a list', [], /no object/], ['too few patches', { K: { patches: patches.slice(1), se: 1 } }, /batch K .*12 colours/], ['no uncertainty', { K: { patches } }, /"se"/],
    ['a scale of 0', { K: { patches, se: 1, scale: 0 } }, /"scale"/], ['a word for a colour', { K: { patches: patches.with(3, ['a', 0, 0] as never), se: 1 } }, /patch 4/],
  ])('are not read from %s', async (_, json, message) => {
    const name = file('bad.json', Buffer.from(JSON.stringify(json)))
    await expect(cardsIn(name)).rejects.toThrow(message)
    await expect(cardsIn(name)).rejects.toThrow(BadCards)
  })
})
