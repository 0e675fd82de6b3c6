// Pictures as a camera makes them, drawn by a browser and given the EXIF that it would not write.

import type { Page } from 'playwright-core'

export interface Shot {
  readonly name: string
  readonly mimeType: string
  readonly buffer: Buffer
}

/** What the EXIF of each picture says of where it was taken. */
export const position = 'N52.0907'

interface ShotOptions {
  readonly width: number
  readonly height: number
  /** Noise makes a file of megabytes. */
  readonly noise?: boolean
  readonly seed?: number
}

/** A JPEG that lies on its side: its left edge, which is red, is the upper one of what was seen. The rest is blue. */
export async function takeShot(page: Page, options: ShotOptions): Promise<Shot> {
  const base64 = await page.evaluate(async ({ width, height, noise, seed = 0 }) => {
    const canvas = Object.assign(document.createElement('canvas'), { width, height })
    const paper = canvas.getContext('2d')!
    const pixels = paper.createImageData(width, height)
    let chance = seed + 1
    for (let at = 0; at < pixels.data.length; at += 4) {
      const left = (at / 4) % width < width / 4
      chance = (chance * 1103515245 + 12345) % 2147483648 // the C standard's example of rand
      const grain = noise ? (chance >> 8) % 90 : seed % 90
      pixels.data.set([left ? 160 + grain : grain, grain, left ? grain : 160 + grain, 255], at)
    }
    paper.putImageData(pixels, 0, 0)
    const blob = await new Promise<Blob>((resolve) => canvas.toBlob((made) => resolve(made!), 'image/jpeg', 0.9))
    const url = await new Promise<string>((resolve) => {
      const reader = new FileReader()
      reader.onload = () => resolve(reader.result as string)
      reader.readAsDataURL(blob)
    })
    return url.slice(url.indexOf(',') + 1)
  }, options)
  const drawn = Buffer.from(base64, 'base64')
  return { name: 'shot.jpg', mimeType: 'image/jpeg', buffer: Buffer.concat([drawn.subarray(0, 2), exif(), drawn.subarray(2)]) }
}

/**
 * An APP1 segment (Exif 2.32, 4.5 and 4.6): Orientation 6, and a GPS part of one text.
 */
function exif(): Buffer {
  const text = Buffer.from(`${position}\0`, 'ascii')
  const gpsAt = 8 + 2 + 2 * 12 + 4
  const tiff = Buffer.alloc(gpsAt + 2 + 12 + 4 + text.length)
  tiff.write('MM\0*', 'latin1')
  tiff.writeUInt32BE(8, 4)
  tiff.writeUInt16BE(2, 8)
  entry(tiff, 10, { tag: 0x0112, type: 3, count: 1 }) // Orientation, a short
  tiff.writeUInt16BE(6, 18)
  entry(tiff, 22, { tag: 0x8825, type: 4, count: 1 }) // GPS part, a long
  tiff.writeUInt32BE(gpsAt, 30)
  tiff.writeUInt16BE(1, gpsAt)
  entry(tiff, gpsAt + 2, { tag: 0x001b, type: 2, count: text.length }) // GPSProcessingMethod
  tiff.writeUInt32BE(gpsAt + 2 + 12 + 4, gpsAt + 10)
  text.copy(tiff, gpsAt + 2 + 12 + 4)
  const head = Buffer.from([0xff, 0xe1, 0, 0, ...Buffer.from('Exif\0\0', 'latin1')])
  head.writeUInt16BE(2 + 6 + tiff.length, 2)
  return Buffer.concat([head, tiff])
}

function entry(tiff: Buffer, at: number, { tag, type, count }: { tag: number; type: number; count: number }): void {
  tiff.writeUInt16BE(tag, at)
  tiff.writeUInt16BE(type, at + 2)
  tiff.writeUInt32BE(count, at + 4)
}
