// JPEG bytes of rendered photos, as a phone's camera writes them: turned by EXIF, in its colour space.

import sharp from 'sharp'
import type { Photo } from '../measurement'

export interface Kept {
  /** 1 to 100, as libjpeg counts. */
  readonly quality: number
  /** How EXIF says that the pixels are to be turned, 1 to 8; 1 is not at all. */
  readonly orientation?: number
  readonly progressive?: boolean
  /** Whether colour is kept at half the resolution, as cameras do. */
  readonly halved?: boolean
  /** In place of the one of its space. */
  readonly profile?: Uint8Array
  /** In place of one that tells the orientation, as a TIFF. */
  readonly exif?: Uint8Array
}

export async function jpegOf(photo: Photo, { quality, orientation = 1, progressive = false, halved = true, profile, exif }: Kept): Promise<Uint8Array> {
  const { data, width, height } = asTaken(photo, orientation)
  const picture = sharp(data, { raw: { width, height, channels: 3 } })
  const bytes = await picture.jpeg({ quality, progressive, chromaSubsampling: halved ? '4:2:0' : '4:4:4' }).toBuffer()
  const tiff = exif ?? (orientation === 1 ? undefined : tiffOf(orientation))
  const told = tiff ? [segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]))] : []
  const own = profile ?? (photo.space === 'display-p3' ? await displayP3Profile() : undefined)
  const space = own ? [segment(0xe2, Buffer.concat([Buffer.from('ICC_PROFILE\0\x01\x01', 'latin1'), own]))] : []
  return Buffer.concat([bytes.subarray(0, 2), ...told, ...space, bytes.subarray(2)])
}

/** The pixels of a JPEG as the camera took them, whatever it says of turns and colours. */
export async function pixelsOf(jpeg: Uint8Array, space: Photo['space']): Promise<Photo> {
  const { data, info } = await sharp(jpeg, { ignoreIcc: true }).ensureAlpha().raw().toBuffer({ resolveWithObject: true })
  return { data: new Uint8ClampedArray(data.buffer, data.byteOffset, data.byteLength), width: info.width, height: info.height, space }
}

/** Without alpha, and so that turning it as EXIF 2.3, table 6 (Orientation) says makes it upright. */
function asTaken({ data, width, height }: Photo, orientation: number): { readonly data: Uint8Array; readonly width: number; readonly height: number } {
  const lying = orientation >= 5
  const [w, h] = lying ? [height, width] : [width, height]
  const taken = new Uint8Array(3 * w * h)
  const mirrorX = [2, 3, 6, 7].includes(orientation)
  const mirrorY = [3, 4, 7, 8].includes(orientation)
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [u, v] = [mirrorX ? width - 1 - x : x, mirrorY ? height - 1 - y : y]
      const to = 3 * (lying ? u * w + v : v * w + u)
      const from = 4 * (y * width + x)
      taken[to] = data[from]!
      taken[to + 1] = data[from + 1]!
      taken[to + 2] = data[from + 2]!
    }
  }
  return { data: taken, width: w, height: h }
}

function segment(marker: number, body: Uint8Array): Uint8Array {
  const head = Buffer.from([0xff, marker, 0, 0])
  head.writeUInt16BE(body.length + 2, 2)
  return Buffer.concat([head, body])
}

/** TIFF 6.0, section 2: big end first, one directory of one entry, Orientation (Exif 2.3, table 4). */
function tiffOf(orientation: number): Uint8Array {
  return Buffer.from(['MM\0*\0\0\0\x08', '\0\x01', '\x01\x12', '\0\x03', '\0\0\0\x01', `\0${String.fromCharCode(orientation)}\0\0`, '\0\0\0\0'].join(''), 'latin1')
}

/** What cameras write in a file of Adobe RGB, which has no profile: a directory of Exif, and in it one of interoperability that says R03 (DCF 2.0). */
export function optionTIFF(index: string): Uint8Array {
  const entry = (tag: string, type: string, count: string, value: string) => `\0\x01${tag}\0${type}\0\0\0${count}${value}\0\0\0\0`
  return Buffer.from(`MM\0*\0\0\0\x08${entry('\x87\x69', '\x04', '\x01', '\0\0\0\x1a')}${entry('\xa0\x05', '\x04', '\x01', '\0\0\0\x2c')}${entry('\0\x01', '\x02', '\x04', `${index}\0`)}`, 'latin1')
}

/** ICC.1:2010, 7: a header, and the three primaries under D50, which are all that is looked at. */
export function profileOf(primaries: readonly (readonly [number, number, number])[]): Uint8Array {
  const bytes = Buffer.alloc(128 + 4 + 3 * 12 + 3 * 20)
  bytes.writeUInt32BE(bytes.length, 0)
  bytes.write('mntrRGB XYZ ', 12, 'latin1')
  bytes.write('acsp', 36, 'latin1')
  bytes.writeUInt32BE(3, 128)
  primaries.forEach((primary, i) => {
    const at = 168 + 20 * i
    bytes.write(`${'rgb'[i]}XYZ`, 132 + 12 * i, 'latin1')
    bytes.writeUInt32BE(at, 136 + 12 * i)
    bytes.writeUInt32BE(20, 140 + 12 * i)
    bytes.write('XYZ ', at, 'latin1')
    primary.forEach((part, k) => bytes.writeInt32BE(Math.round(65536 * part), at + 8 + 4 * k))
  })
  return bytes
}

/** Adobe RGB (1998)'s primaries adapted to D50, from its specification's annex, from memory. */
export const adobeRGB = [[0.60974, 0.31111, 0.01947], [0.20528, 0.62567, 0.06087], [0.14919, 0.06322, 0.74457]] as const

let made: Promise<Buffer> | undefined

/** The one that libvips brings. */
function displayP3Profile(): Promise<Buffer> {
  made ??= sharp({ create: { width: 1, height: 1, channels: 3, background: 'white' } }).withIccProfile('p3').jpeg().toBuffer()
    .then((bytes) => sharp(bytes).metadata()).then(({ icc }) => icc ?? Promise.reject(new Error('making a profile: there is none')))
  return made
}
