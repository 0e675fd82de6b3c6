// From a file or a frame of the camera to pixels. In a worker: nothing here asks for a page.

import type { Photo } from '../colourcard/measurement'
import { PhotoProblem } from '../photos/problem'
import { checkPixels, upright } from '../photos/prepare'
import { sizeTold } from '../photos/dimensions'

/** Bytes at the beginning of a file in which a camera has said what its picture is. */
const headBytes = 512 << 10

/** Pixels of the longer side that a photo keeps at least, where it is opened smaller. */
const enough = 1900

export interface FilePixels {
  readonly photo: Photo
  /** It has more pixels than these. */
  readonly reduced: boolean
}

/**
 * The pixels of a file, upright; of a large one unless told a half, a third or so, which is a fraction of the time and
 * of the memory: what is measured is the same to within 0.03 (CIEDE2000) where the card is not too small for it.
 * Rejects with a PhotoProblem.
 */
export async function filePixels(file: Blob, space: Photo['space'] | undefined, full = false): Promise<FilePixels> {
  const told = sizeTold(new Uint8Array(await file.slice(0, headBytes).arrayBuffer()))
  if (told) checkPixels(told)
  const bitmap = await opened(file, space)
  try {
    checkPixels(bitmap)
    const step = full ? 1 : Math.max(1, Math.floor(Math.max(bitmap.width, bitmap.height) / enough))
    return { photo: framePixels(bitmap, 1 / step, space ?? 'srgb'), reduced: step > 1 }
  } finally {
    bitmap.close()
  }
}

/**
 * As it is encoded, where its space is one that is known; else as the browser brings it to sRGB.
 */
async function opened(file: Blob, space: Photo['space'] | undefined): Promise<ImageBitmap> {
  try {
    return await upright(file, { colorSpaceConversion: space === undefined ? 'default' : 'none' })
  } catch (cause) {
    throw new PhotoProblem('unreadable', `opening a picture of type '${file.type}': the browser does not know it`, { cause })
  }
}

export function framePixels(bitmap: ImageBitmap, scale: number, space: Photo['space'] = 'srgb'): Photo {
  const [width, height] = [Math.max(1, Math.round(bitmap.width * scale)), Math.max(1, Math.round(bitmap.height * scale))]
  const paper = paperOf(width, height)
  // At a half, 'low' is the mean of each four pixels, as 'medium' is, in half of the time; beyond, it would leave some out.
  paper.imageSmoothingQuality = scale === 0.5 ? 'low' : 'medium'
  // What is clear in a picture is white, as in the command, and not what was there before.
  paper.fillStyle = 'white'
  paper.fillRect(0, 0, width, height)
  paper.drawImage(bitmap, 0, 0, width, height)
  const { data } = paper.getImageData(0, 0, width, height)
  return { data, width, height, space }
}

let canvas: OffscreenCanvas | undefined

/** One canvas for all pictures: the frames of a camera are many and alike. */
function paperOf(width: number, height: number): OffscreenCanvasRenderingContext2D {
  canvas ??= new OffscreenCanvas(width, height)
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height })
  const paper = canvas.getContext('2d', { willReadFrequently: true })
  if (!paper) throw new PhotoProblem('failed', 'opening a picture: the browser gives no canvas')
  return paper
}

/** A frame as a file of its own, before anything is lost of it. */
export async function jpegOf({ data, width, height }: Photo): Promise<Blob> {
  const outside = new OffscreenCanvas(width, height)
  const paper = outside.getContext('2d')
  if (!paper) throw new PhotoProblem('failed', 'keeping a picture of the camera: the browser gives no canvas')
  paper.putImageData(new ImageData(data as Uint8ClampedArray<ArrayBuffer>, width, height), 0, 0)
  return outside.convertToBlob({ type: 'image/jpeg', quality: 0.95 })
}
