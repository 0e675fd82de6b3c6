// A reader that asks the browser's own (BarcodeDetector of the Shape Detection API, W3C community
// report): most phones with Android have one, few others.

import type { Reader } from './reader'

interface Detected {
  readonly rawValue: string
  readonly boundingBox: DOMRectReadOnly
}

interface Detector {
  detect(picture: ImageData): Promise<readonly Detected[]>
}

interface DetectorMaker {
  new (options: { readonly formats: readonly string[] }): Detector
  getSupportedFormats(): Promise<readonly string[]>
}

declare global {
  var BarcodeDetector: DetectorMaker | undefined
}

/** The browser's own reader, or undefined where it has none that knows QR codes. */
export async function openOwn(): Promise<Reader | undefined> {
  const maker = globalThis.BarcodeDetector
  if (maker === undefined) return undefined
  try {
    if (!(await maker.getSupportedFormats()).includes('qr_code')) return undefined
    const detector = new maker({ formats: ['qr_code'] })
    return {
      async read(picture) {
        const found = await detector.detect(picture)
        return found.map(({ rawValue, boundingBox: box }) => ({ text: rawValue, x: box.x + box.width / 2, y: box.y + box.height / 2 }))
      },
      close() {},
    }
  } catch {
    return undefined // it is named here, but its service is not on this device
  }
}
