// Pixels of the pictures in testdata: PNGs of 8-bit greys, as Go writes them (PNG 1.2, sections 5 to 9).

import { inflateSync } from 'node:zlib'

/** The pixels of a grey PNG, as a canvas would give them. */
export function greyPixels(png: Buffer): ImageData {
  const [width, height] = [png.readUInt32BE(16), png.readUInt32BE(20)]
  if (png.toString('latin1', 24, 29) !== '\x08\0\0\0\0') throw new Error('reading a PNG: it is not one of 8-bit greys')
  const packed: Buffer[] = []
  for (let at = 8; at < png.length; at += 12 + png.readUInt32BE(at)) {
    if (png.toString('latin1', at + 4, at + 8) === 'IDAT') packed.push(png.subarray(at + 8, at + 8 + png.readUInt32BE(at)))
  }
  const grey = unfiltered(inflateSync(Buffer.concat(packed)), width, height)
  const data = new Uint8ClampedArray(4 * width * height)
  grey.forEach((value, i) => data.set([value, value, value, 255], 4 * i))
  return { data, width, height, colorSpace: 'srgb' } as ImageData
}

function unfiltered(lines: Buffer, width: number, height: number): Uint8Array {
  const grey = new Uint8Array(width * height)
  for (let y = 0; y < height; y++) {
    const filter = lines[y * (width + 1)] ?? 0
    for (let x = 0; x < width; x++) {
      const at = y * width + x
      const left = x > 0 ? grey[at - 1] ?? 0 : 0
      const above = y > 0 ? grey[at - width] ?? 0 : 0
      const corner = x > 0 && y > 0 ? grey[at - width - 1] ?? 0 : 0
      grey[at] = (lines[y * (width + 1) + 1 + x] ?? 0) + predicted(filter, left, above, corner)
    }
  }
  return grey
}

function predicted(filter: number, left: number, above: number, corner: number): number {
  if (filter < 4) return [0, left, above, Math.floor((left + above) / 2)][filter] ?? 0
  const guess = left + above - corner
  const [toLeft, toAbove, toCorner] = [Math.abs(guess - left), Math.abs(guess - above), Math.abs(guess - corner)]
  if (toLeft <= toAbove && toLeft <= toCorner) return left
  return toAbove <= toCorner ? above : corner
}
