// Tags before a camera: what it sees of one, as a film that Chromium takes for its camera's, and as a photo.

import { readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { prepareZXingModule, writeBarcode } from 'zxing-wasm/writer'

const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/writer/zxing_writer.wasm'))
prepareZXingModule({ overrides: { wasmBinary: new Uint8Array(wasm).buffer } })

const [width, height] = [1280, 720]
const module = 12 // pixels

/** A film of a tag that stands still in the middle; of no tag where there is no text. */
export async function film(file: string, text: string): Promise<void> {
  const light = Buffer.alloc(width * height, 120)
  if (text !== '') await drawTag(light, text)
  const colours = Buffer.alloc((width * height) / 2, 128) // none
  const frame = Buffer.concat([Buffer.from('FRAME\n'), light, colours])
  writeFileSync(file, Buffer.concat([Buffer.from(`YUV4MPEG2 W${width} H${height} F10:1 Ip A1:1 C420jpeg\n`), frame, frame]))
}

async function drawTag(light: Buffer, text: string): Promise<void> {
  const { symbol, error } = await writeBarcode(text, { format: 'QRCode' })
  if (error !== '') throw new Error(`drawing the tag of ${text}: ${error}`)
  const quiet = 4
  const side = (symbol.width + 2 * quiet) * module
  const [left, top] = [(width - side) / 2, (height - side) / 2]
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const [column, row] = [Math.floor(x / module) - quiet, Math.floor(y / module) - quiet]
      const inside = column >= 0 && row >= 0 && column < symbol.width && row < symbol.height
      light[(top + y) * width + left + x] = inside ? 30 + 0.8 * (symbol.data[row * symbol.width + column] ?? 0) : 235
    }
  }
}

export async function photoOf(text: string): Promise<{ name: string; mimeType: string; buffer: Buffer }> {
  const { image, error } = await writeBarcode(text, { format: 'QRCode', scale: 10 })
  if (image === null) throw new Error(`drawing a photo of the tag of ${text}: ${error}`)
  return { name: 'tag.png', mimeType: 'image/png', buffer: Buffer.from(await image.arrayBuffer()) }
}
