// QR codes in Node: read, and drawn for rendered cards by zxing-cpp's writer, at the level that internal/tags
// takes too. Of masks it may choose another; what a code says and how large it is are the same.

import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'
import sharp from 'sharp'
import { prepareZXingModule as prepareReader, readBarcodes } from 'zxing-wasm/reader'
import { prepareZXingModule, writeBarcode } from 'zxing-wasm/writer'
import { codeModules } from '../geometry'
import type { ReadCodes } from '../measurement'
import type { Codes } from './scenes'

let ready: Promise<unknown> | undefined

/** The modules of a text's code in rows, true where dark. Rejects where it does not fit into a card's code. */
export async function codeOf(text: string): Promise<readonly boolean[]> {
  const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/writer/zxing_writer.wasm'))
  ready ??= prepareZXingModule({ overrides: { wasmBinary: new Uint8Array(wasm).buffer }, fireImmediately: true })
  await ready
  const drawn = async (level: string) => (await writeBarcode(text, { format: 'QRCode', options: `ecLevel=${level}` })).symbol
  let symbol = await drawn('Q')
  if (symbol.width > codeModules) symbol = await drawn('M')
  if (symbol.width !== codeModules) throw new Error(`drawing the code of ${JSON.stringify(text)}: it has ${symbol.width} modules`)
  return Array.from(symbol.data, (v) => v === 0)
}

/**
 * Of a card as it is really printed, and of a plant's tag. testdata/card/ink.png is what is black on the first card
 * of `corymb card -batch 6GRATJ`, drawn by poppler (pdftoppm -r 406.4, which is 16 pixels a millimetre).
 */
export async function realCodes(): Promise<Codes> {
  const file = join(import.meta.dirname, '../../../../testdata/card/ink.png')
  const { data } = await sharp(file).extractChannel(0).raw().toBuffer({ resolveWithObject: true })
  return { batch: '6GRATJ', card: await codeOf('CARD/1/6GRATJ'), tag: await codeOf('HKV 4J'), ink: Uint8Array.from(data, (v) => (v < 128 ? 1 : 0)) }
}

let reading: Promise<unknown> | undefined

/** As the app reads them: with its reader, told the same. */
export const readCodes: ReadCodes = async ({ data, width, height }) => {
  const wasm = readFileSync(createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm'))
  reading ??= prepareReader({ overrides: { wasmBinary: new Uint8Array(wasm).buffer }, fireImmediately: true })
  await reading
  const found = await readBarcodes({ data, width, height, colorSpace: 'srgb' } as ImageData, {
    formats: ['QRCode'], tryHarder: true, tryRotate: false, tryInvert: false, tryDownscale: true, maxNumberOfSymbols: 8,
  })
  return found.filter(({ isValid }) => isValid).map(({ text, position: { topLeft, topRight, bottomRight, bottomLeft } }) => (
    { text, corners: [topLeft, topRight, bottomRight, bottomLeft] }
  ))
}
