// A file of a photo to its pixels, by the decoders that browsers stand on too.

import { readFile } from 'node:fs/promises'
import { resolve } from 'node:path'
import sharp, { type Metadata } from 'sharp'
import type { Photo } from '../src/colourcard/measurement'
import { spaceOf, toldByJPEG } from '../src/measuring/told_by_file'
import { sizeTold } from '../src/photos/dimensions'
import { checkPixels } from '../src/photos/prepare'
import { PhotoProblem } from '../src/photos/problem'

/** Why a file cannot be measured, as a sentence that says what to do. */
export class Unreadable extends Error {}

/** Upright, and as it is encoded. A name is looked up from where npm was called, which calls us elsewhere. Rejects with Unreadable. */
export async function openPhoto(file: string): Promise<Photo> {
  const bytes = await bytesOf(file)
  const { width, height } = checked(bytes)
  const told = await metadataOf(bytes)
  const space = spaceTold(bytes, told)
  try {
    const picture = sharp(bytes, { ignoreIcc: true }).autoOrient().flatten({ background: 'white' }).toColourspace('srgb').ensureAlpha()
    const { data, info } = await picture.raw({ depth: 'uchar' }).toBuffer({ resolveWithObject: true })
    return { data: new Uint8ClampedArray(data.buffer, data.byteOffset, data.byteLength), width: info.width, height: info.height, space }
  } catch (cause) {
    throw new Unreadable(`The picture of ${width} by ${height} pixels is broken or cut short. Copy it from the camera again.`, { cause })
  }
}

export const fromCaller = (file: string) => resolve(process.env['INIT_CWD'] ?? '.', file)

async function bytesOf(file: string): Promise<Buffer> {
  try {
    return await readFile(fromCaller(file))
  } catch (cause) {
    throw new Unreadable(`The file cannot be opened (${cause instanceof Error ? cause.message : String(cause)}). Check its name and place.`, { cause })
  }
}

function checked(bytes: Uint8Array): { readonly width: number; readonly height: number } {
  const size = sizeTold(bytes)
  if (!size) throw new Unreadable(`This is ${kindOf(bytes)}, which cannot be measured. Save the photo as a JPEG, or set the camera to take JPEG.`)
  try {
    checkPixels(size)
  } catch (cause) {
    if (!(cause instanceof PhotoProblem)) throw cause
    throw new Unreadable(`The picture is too large, ${size.width} by ${size.height} pixels. Take it at 64 million pixels or fewer.`, { cause })
  }
  return size
}

/** By what files begin with. */
function kindOf(bytes: Uint8Array): string {
  const text = (from: number, length: number) => String.fromCharCode(...bytes.subarray(from, from + length))
  if (bytes.length === 0) return 'an empty file'
  if (text(4, 4) === 'ftyp') return /^avi[fs]$/.test(text(8, 4)) ? 'an AVIF picture' : /^(he|mi|ms)/.test(text(8, 4)) ? 'an HEIC picture' : 'a film'
  if (text(0, 4) === 'RIFF' && text(8, 4) === 'WEBP') return 'a WebP picture'
  if (text(0, 4) === 'GIF8') return 'a GIF picture'
  if (text(0, 4) === 'II*\0' || text(0, 4) === 'MM\0*') return 'a TIFF or a raw picture'
  if (text(0, 4) === '%PDF') return 'a PDF file'
  return text(0, 2) === '\xff\xd8' || text(1, 3) === 'PNG' ? 'a broken picture' : 'no JPEG or PNG picture'
}

async function metadataOf(bytes: Buffer): Promise<Metadata> {
  try {
    return await sharp(bytes).metadata()
  } catch (cause) {
    throw new Unreadable('The picture is broken or cut short. Copy it from the camera again.', { cause })
  }
}

/** A picture that says nothing of its colours is in sRGB; one that says something else is not guessed at. */
function spaceTold(bytes: Uint8Array, { format, space, icc }: Metadata): Photo['space'] {
  if (space === 'cmyk') throw new Unreadable('This is a picture of printing inks (CMYK), which cannot be measured. Give the photo as the camera took it.')
  if (space === 'b-w' || space === 'grey16') throw new Unreadable('This picture has no colours. Give the photo as the camera took it.')
  const told = format === 'jpeg' ? toldByJPEG(bytes).space : profiled(icc)
  if (told) return told
  throw new Unreadable('The picture is in a colour space other than sRGB and Display P3, which cannot be measured. Set the camera to sRGB.')
}

function profiled(icc: Uint8Array | undefined): Photo['space'] | undefined {
  if (!icc) return 'srgb'
  try {
    return spaceOf(icc)
  } catch (cause) {
    if (cause instanceof RangeError) return undefined // it is cut short
    throw cause
  }
}
