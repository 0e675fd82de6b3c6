// QR codes in pixels, by zxing-cpp compiled to wasm. Who calls this says first where the wasm is.

import { prepareZXingModule, type ReaderOptions, readBarcodes } from 'zxing-wasm/reader'
import type { Seen } from './reader'

/** Where the wasm is: its address, or its bytes. There is no default, which would be a server of somebody else. */
export type Wasm = string | ArrayBuffer

export function loadWasm(wasm: Wasm): Promise<unknown> {
  const overrides = typeof wasm === 'string' ? { locateFile: () => wasm } : { wasmBinary: wasm }
  return prepareZXingModule({ overrides, fireImmediately: true })
}

/** Tags are dark on light, and what stands in a QR code's corners tells its turn: neither is tried another way. */
const options: ReaderOptions = {
  formats: ['QRCode'], tryHarder: true, tryRotate: false, tryInvert: false, tryDownscale: true, maxNumberOfSymbols: 8,
}

/** A code that was read, with its outer corners as it is read: upper left first, then clockwise. */
export interface Outlined {
  readonly text: string
  readonly corners: readonly [Corner, Corner, Corner, Corner]
}

interface Corner {
  readonly x: number
  readonly y: number
}

export async function outlinedIn(picture: ImageData): Promise<Outlined[]> {
  const found = await readBarcodes(picture, options)
  return found.filter(({ isValid }) => isValid).map(({ text, position: { topLeft, topRight, bottomRight, bottomLeft } }) => (
    { text, corners: [topLeft, topRight, bottomRight, bottomLeft] }
  ))
}

export async function codesIn(picture: ImageData): Promise<Seen[]> {
  const found = await outlinedIn(picture)
  return found.map(({ text, corners }) => ({ text, x: mean(corners.map(({ x }) => x)), y: mean(corners.map(({ y }) => y)) }))
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}
