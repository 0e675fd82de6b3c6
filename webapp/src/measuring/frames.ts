// The camera's picture, looked at several times a second by the worker.

import type { KnownCards } from './known_cards'
import type { Measurer } from './measurer'
import { watch } from '../scan/sampling'
import type { Watched } from '../scan/use_camera'
import type { Glimpse } from './worker_messages'

/** Enough for a card that is a tenth of the picture, at a size that phones give quickly; width and height as cameras name them. */
export const pictureSize = { width: 1920, height: 1440 }

interface Watching extends Watched {
  readonly video: HTMLVideoElement
  readonly measurer: Measurer
  readonly cards: () => KnownCards
  /** Of each look, with a card or without. The next look waits for it; watching may be over before it is done. */
  readonly onGlimpse: (glimpse: Glimpse, isOver: () => boolean) => Promise<void>
}

/** Returns what ends it. */
export function watchFrames({ video, measurer, cards, onGlimpse, onTired, onFailure }: Watching): () => void {
  let over = false
  const stop = watch({
    picture: () => (hasPicture(video) ? video : undefined),
    decode: async () => {
      const glimpse = await measurer.look(await frameOf(video), cards())
      if (!over) await onGlimpse(glimpse, () => over)
      return glimpse.card
    },
    onCode: () => {}, onTired, onFailure,
  })
  return () => {
    over = true
    stop()
  }
}

function hasPicture(video: HTMLVideoElement): boolean {
  return video.videoWidth > 0 && video.readyState >= HTMLMediaElement.HAVE_CURRENT_DATA
}

/** What the camera sees at this moment, in full; of one that was just turned on, its first picture. */
export async function frameOf(video: HTMLVideoElement): Promise<ImageBitmap> {
  if (!hasPicture(video)) await new Promise((resolve) => video.addEventListener('loadeddata', resolve, { once: true }))
  return createImageBitmap(video)
}

/**
 * The same text for the same camera: what the system calls it, its picture's size, longer side first, and the device,
 * since many phones call theirs alike.
 */
export function cameraName(label: string, { width, height }: { readonly width: number; readonly height: number }, device: string): string {
  return [label.trim(), `${Math.max(width, height)}x${Math.min(width, height)}`, device.slice(0, 8)].filter((part) => part !== '').join(', ')
}
