// The camera that looks away from the phone, and its light.

export type CameraReason = 'insecure' | 'refused' | 'none' | 'busy' | 'other'

export class CameraProblem extends Error {
  readonly reason: CameraReason

  constructor(reason: CameraReason, options?: ErrorOptions) {
    super(`opening the camera: ${reason}`, options)
    this.reason = reason
  }
}

export interface Camera {
  readonly stream: MediaStream
  /** Turns the light on or off; undefined where there is none. */
  readonly light: ((on: boolean) => Promise<void>) | undefined
  close(): void
}

/** How large a picture is asked for, in pixels; cameras give the nearest that they have. */
export interface PictureSize {
  readonly width: number
  readonly height: number
}

/** Enough for a tag at arm's length, and little to decode. */
const forTags: PictureSize = { width: 1280, height: 720 }

/** Rejects with a CameraProblem. Calls `onEnd` where the system takes the camera away. */
export async function openCamera(onEnd: (problem: CameraProblem) => void, size = forTags): Promise<Camera> {
  const stream = await opened(size)
  const track = stream.getVideoTracks()[0]
  track?.addEventListener('ended', () => onEnd(new CameraProblem('busy')))
  const close = () => stream.getTracks().forEach((one) => one.stop())
  return { stream, light: track && lightOf(track), close }
}

async function opened({ width, height }: PictureSize): Promise<MediaStream> {
  // Outside of https there is none, whatever the types say.
  const devices = navigator.mediaDevices as MediaDevices | undefined
  if (devices === undefined) throw new CameraProblem('insecure')
  try {
    const video = { facingMode: { ideal: 'environment' }, width: { ideal: width }, height: { ideal: height } }
    return await devices.getUserMedia({ video, audio: false })
  } catch (cause) {
    throw new CameraProblem(reasonOf(cause), { cause })
  }
}

/** By the names of Media Capture and Streams (W3C), 10.2 getUserMedia. */
export function reasonOf(failure: unknown): CameraReason {
  const name = failure instanceof Error ? failure.name : ''
  if (name === 'NotAllowedError' || name === 'SecurityError') return 'refused'
  if (name === 'NotFoundError' || name === 'OverconstrainedError') return 'none'
  if (name === 'NotReadableError' || name === 'AbortError') return 'busy'
  return 'other'
}

/** `torch` is of MediaStream Image Capture (W3C) and in no types. */
function lightOf(track: MediaStreamTrack): Camera['light'] {
  const may = (track.getCapabilities?.() ?? {}) as MediaTrackCapabilities & { readonly torch?: boolean }
  if (may.torch !== true) return undefined
  return (on) => track.applyConstraints({ advanced: [{ torch: on } as MediaTrackConstraintSet] })
}
