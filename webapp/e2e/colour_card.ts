// Heads beside a colour card as a camera sees them: rendered with known truth, as a film that Chromium takes for its
// camera's, and as photos.

import { writeFileSync } from 'node:fs'
import type { Photo } from '../src/colourcard/measurement'
import { codeOf } from '../src/colourcard/testing/codes'
import { jpegOf } from '../src/colourcard/testing/jpeg'
import { render, type Rendered } from '../src/colourcard/testing/render'
import { type Condition, drawScene, type Size } from '../src/colourcard/testing/scenes'

export const batch = '6GRATJ'

/** Held across, and as small as a card can be read in: drawing, filming and measuring it take as long as it is large. */
const filmSize: Size = { width: 800, height: 600 }

/** The first scene of a condition from a seed on that lies across, or stands upright as a phone is held. */
export async function sceneOf(seed: number, condition: Condition, size: Size = filmSize, upright = false): Promise<Rendered> {
  const codes = { batch, card: await codeOf(`CARD/1/${batch}`), tag: await codeOf('HKV 4J') }
  for (let at = seed; at < seed + 40; at++) {
    const { scene } = drawScene(at, condition, codes, size)
    if (scene.width < scene.height === upright) return render(scene)
  }
  throw new Error(`drawing a scene of ${condition}: none from seed ${seed} on ${upright ? 'stands upright' : 'lies across'}`)
}

export async function photoOf({ photo }: Rendered, quality = 90): Promise<{ name: string; mimeType: string; buffer: Buffer }> {
  return { name: 'head.jpg', mimeType: 'image/jpeg', buffer: Buffer.from(await jpegOf(photo, { quality })) }
}

/** A film of photos of one size, each for some frames of a tenth of a second. */
export function film(file: string, photos: readonly Photo[], frames = 20): void {
  const { width, height } = photos[0] ?? { width: 0, height: 0 }
  const drawn = photos.flatMap((photo) => {
    const frame = Buffer.concat([Buffer.from('FRAME\n'), planes(photo)])
    return Array.from({ length: frames }, () => frame)
  })
  writeFileSync(file, Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`), ...drawn]))
}

/** Nothing but grey. */
export function nothing({ width, height }: Size = filmSize): Photo {
  return { data: new Uint8ClampedArray(4 * width * height).fill(120), width, height, space: 'srgb' }
}

/** Luma and chroma as ITU-R BT.601-7, 2.5.3 has them in 8 bits, colour at half the resolution. */
function planes({ data, width, height }: Photo): Buffer {
  const [half, low] = [width >> 1, height >> 1]
  const out = Buffer.alloc(width * height + 2 * half * low)
  for (let i = 0; i < width * height; i++) out[i] = Math.round(16 + 0.25679 * data[4 * i]! + 0.50413 * data[4 * i + 1]! + 0.09791 * data[4 * i + 2]!)
  for (let y = 0; y < low; y++) {
    for (let x = 0; x < half; x++) {
      const [r, g, b] = [0, 1, 2].map((k) => meanOf(data, width, 2 * x, 2 * y, k)) as [number, number, number]
      out[width * height + y * half + x] = Math.round(128 - 0.14822 * r - 0.29099 * g + 0.43922 * b)
      out[width * height + half * low + y * half + x] = Math.round(128 + 0.43922 * r - 0.36779 * g - 0.07143 * b)
    }
  }
  return out
}

function meanOf(data: Uint8ClampedArray, width: number, x: number, y: number, k: number): number {
  const at = 4 * (y * width + x) + k
  return (data[at]! + data[at + 4]! + data[at + 4 * width]! + data[at + 4 * width + 4]!) / 4
}
