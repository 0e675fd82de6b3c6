// Pixels of what the camera sees, and of photos.

/** Pixels of a side of the camera's square: a tag's 21 modules are then read from a sixth of it. */
const squareSide = 720

/** The square in the middle of a video, which is what the page shows of it; undefined while it has no picture. */
export function squareOf(): (video: HTMLVideoElement) => ImageData | undefined {
  const canvas = document.createElement('canvas')
  const paper = canvas.getContext('2d', { willReadFrequently: true })
  return (video) => {
    const { videoWidth, videoHeight } = video
    const seen = Math.min(videoWidth, videoHeight)
    if (seen === 0 || video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA) return undefined
    if (!paper) throw new Error('reading the camera: this browser gives no canvas')
    const side = Math.min(seen, squareSide)
    if (canvas.width !== side || canvas.height !== side) canvas.width = canvas.height = side
    paper.drawImage(video, (videoWidth - seen) / 2, (videoHeight - seen) / 2, seen, seen, 0, 0, side, side)
    return paper.getImageData(0, 0, side, side)
  }
}

/** A photo is looked at small, which reads what is blurred or large, then larger, which reads what is small. */
const photoSides = [1280, 3000]

/** A photo's pixels, one size after the other. Rejects where the browser cannot read the file. */
export async function* photoPictures(file: Blob): AsyncGenerator<ImageData> {
  const photo = await createImageBitmap(file)
  try {
    const longest = Math.max(photo.width, photo.height)
    for (const side of photoSides) {
      yield drawn(photo, Math.min(1, side / longest))
      if (longest <= side) return
    }
  } finally {
    photo.close()
  }
}

function drawn(photo: ImageBitmap, scale: number): ImageData {
  const [width, height] = [Math.max(1, Math.round(photo.width * scale)), Math.max(1, Math.round(photo.height * scale))]
  const paper = Object.assign(document.createElement('canvas'), { width, height }).getContext('2d')
  if (!paper) throw new Error('reading a photo: this browser gives no canvas')
  paper.imageSmoothingQuality = 'high'
  paper.drawImage(photo, 0, 0, width, height)
  return paper.getImageData(0, 0, width, height)
}
