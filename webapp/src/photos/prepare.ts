// A picked picture made into what is kept: an upright JPEG of a moderate size and its thumbnail. Both are
// drawn anew, so that nothing but the pixels of the picture is left: EXIF is gone, the position in it
// above all, and whatever else cameras put into or behind a picture.

import type { Size } from './dimensions'
import { sizeTold } from './dimensions'
import { PhotoProblem } from './problem'

/** Pixels of the longer side. */
export const longestSide = 2560
export const smallSide = 320
/** Pixels that a picture may have before: decoded, each takes four bytes of the phone's memory. */
const mostPixels = 64_000_000
/** Bytes at the beginning of a file in which a camera has said how large its picture is. */
const headBytes = 512 << 10

const quality = 0.85
const smallQuality = 0.8

export interface Prepared {
  readonly bytes: Uint8Array<ArrayBuffer>
  readonly small: Uint8Array<ArrayBuffer>
}

/** Rejects with a PhotoProblem, whatever goes wrong. */
export async function prepare(picked: Blob): Promise<Prepared> {
  try {
    return await prepared(picked)
  } catch (cause) {
    if (cause instanceof PhotoProblem) throw cause
    throw new PhotoProblem('failed', `drawing a picture of ${picked.size} bytes anew`, { cause })
  }
}

async function prepared(picked: Blob): Promise<Prepared> {
  const told = sizeTold(new Uint8Array(await picked.slice(0, headBytes).arrayBuffer()))
  if (told) checkPixels(told)
  const picture = await decoded(picked)
  try {
    checkPixels(picture)
    return { bytes: await drawn(picture, longestSide, quality), small: await drawn(picture, smallSide, smallQuality) }
  } finally {
    picture.close()
  }
}

export function checkPixels({ width, height }: Size): void {
  if (width * height <= mostPixels) return
  throw new PhotoProblem('pixels', `reading a picture: it has ${width} by ${height} pixels, of ${mostPixels} at most`)
}

async function decoded(picked: Blob): Promise<ImageBitmap> {
  try {
    return await upright(picked)
  } catch (cause) {
    throw new PhotoProblem('unreadable', `reading a picture of type '${picked.type}': the browser does not know it`, { cause })
  }
}

/** Turned as EXIF says. Older browsers refuse to be asked for what they do of themselves. */
export async function upright(picked: Blob, options: ImageBitmapOptions = {}): Promise<ImageBitmap> {
  try {
    return await createImageBitmap(picked, { ...options, imageOrientation: 'from-image' })
  } catch (cause) {
    if (!(cause instanceof TypeError)) throw cause
    return createImageBitmap(picked, options)
  }
}

/** The size that fits into a square of this side; a smaller picture stays as it is. */
export function fitted({ width, height }: Size, side: number): Size {
  const scale = Math.min(1, side / Math.max(width, height))
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) }
}

async function drawn(picture: ImageBitmap, side: number, jpegQuality: number): Promise<Uint8Array<ArrayBuffer>> {
  const { width, height } = fitted(picture, side)
  const { paper, jpeg } = paperOf(width, height)
  paper.fillStyle = '#ffffff' // what is transparent would come out black
  paper.fillRect(0, 0, width, height)
  paper.imageSmoothingQuality = 'high'
  paper.drawImage(picture, 0, 0, width, height)
  const blob = await jpeg(jpegQuality)
  if (blob?.type !== jpegType) throw new PhotoProblem('failed', `drawing a picture of ${width} by ${height} pixels: no JPEG came out`)
  return new Uint8Array(await blob.arrayBuffer())
}

const jpegType = 'image/jpeg'

interface Paper {
  readonly paper: OffscreenCanvasRenderingContext2D | CanvasRenderingContext2D
  jpeg(quality: number): Promise<Blob | null>
}

/** A canvas outside of the page where the browser has one. */
function paperOf(width: number, height: number): Paper {
  const outside = typeof OffscreenCanvas === 'undefined' ? undefined : new OffscreenCanvas(width, height)
  const paperOutside = outside?.getContext('2d')
  if (outside && paperOutside) {
    return { paper: paperOutside, jpeg: q => outside.convertToBlob({ type: jpegType, quality: q }) }
  }
  const canvas = Object.assign(document.createElement('canvas'), { width, height })
  const paper = canvas.getContext('2d')
  if (!paper) throw new PhotoProblem('failed', 'drawing a picture: the browser gives no canvas')
  return { paper, jpeg: q => new Promise(resolve => canvas.toBlob(resolve, jpegType, q)) }
}
