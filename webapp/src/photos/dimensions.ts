// How many pixels a picture has by what its first bytes say, so that one which is too large for the phone
// is not decoded at all.

export interface Size {
  readonly width: number
  readonly height: number
}

/** Undefined where it is neither a JPEG nor a PNG, or where it does not say so in these bytes. */
export function sizeTold(head: Uint8Array): Size | undefined {
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength)
  try {
    return pngSize(view) ?? jpegSize(view)
  } catch (cause) {
    if (cause instanceof RangeError) return undefined // it ends before it is told
    throw cause
  }
}

/** PNG (W3C, third edition), 5.2 and 11.2.1: the signature, and IHDR as the first chunk. */
function pngSize(view: DataView): Size | undefined {
  if (view.getUint32(0) !== 0x89504e47 || view.getUint32(4) !== 0x0d0a1a0a) return undefined
  return { width: view.getUint32(16), height: view.getUint32(20) }
}

/** ITU-T T.81, B.1.1 and B.2: segments follow each other until one begins the frame. */
function jpegSize(view: DataView): Size | undefined {
  if (view.getUint16(0) !== 0xffd8) return undefined
  for (let at = 2; view.getUint8(at) === 0xff;) {
    const marker = view.getUint8(at + 1)
    if (marker === 0xff) {
      at++ // filling
    } else if (beginsFrame(marker)) {
      return { height: view.getUint16(at + 5), width: view.getUint16(at + 7) }
    } else {
      at += 2 + view.getUint16(at + 2)
    }
  }
  return undefined
}

/** SOF0 to SOF15; DHT, JPG and DAC lie between them (table B.1). */
function beginsFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)
}
