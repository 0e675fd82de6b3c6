// A camera for as long as a page shows its picture: it is off while the page is hidden, and once who
// watches it has tired of seeing nothing.

import type { RefObject } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import { type Camera, CameraProblem, type CameraReason, openCamera, type PictureSize } from './camera'

/** 'reader': what the camera sees cannot be read here. */
export type SightProblem = CameraReason | 'reader'
export type SightState = 'starting' | 'on' | 'tired' | { readonly problem: SightProblem }

export interface Watched {
  readonly onTired: () => void
  readonly onFailure: (reason: unknown) => void
}

type Watch = (video: HTMLVideoElement, watched: Watched) => Promise<() => void>

export interface Sight {
  readonly video: RefObject<HTMLVideoElement | null>
  readonly state: SightState
  readonly camera: Camera | undefined
  readonly again: () => void
}

/**
 * Opens the camera and has the video watched once it plays. `watch` is asked anew each time that the camera is
 * opened, and gives what ends it.
 */
export function useCamera(watch: Watch, size?: PictureSize): Sight {
  const video = useRef<HTMLVideoElement>(null)
  const [state, setState] = useState<SightState>('starting')
  const [camera, setCamera] = useState<Camera | undefined>(undefined)
  const visible = useVisible()
  const off = state === 'tired' || typeof state === 'object'
  useEffect(() => {
    if (!visible || off) return
    setState('starting')
    return start(video, watch, size, { onState: setState, onCamera: setCamera })
  }, [visible, off])
  return { video, state, camera, again: () => setState('starting') }
}

interface Told {
  readonly onState: (state: SightState) => void
  readonly onCamera: (camera: Camera | undefined) => void
}

/** Opens the camera and watches it. Returns what ends both, at any time. */
function start(video: RefObject<HTMLVideoElement | null>, watch: Watch, size: PictureSize | undefined, told: Told): () => void {
  const ends: (() => void)[] = []
  let over = false
  const end = () => {
    over = true
    for (const one of ends.splice(0)) one()
  }
  const fail = (problem: SightProblem, reason: unknown) => {
    if (over) return
    console.error('watching the camera', reason)
    end()
    told.onState({ problem })
  }
  const run = async () => {
    const camera = await openCamera((problem) => fail(problem.reason, problem), size)
    ends.push(() => camera.close(), () => told.onCamera(undefined))
    const shown = video.current
    if (over || !shown) return end()
    shown.srcObject = camera.stream
    shown.play().catch(() => {}) // it plays by itself as soon as it may
    ends.push(await watch(shown, { onTired: () => { end(); told.onState('tired') }, onFailure: (reason) => fail('reader', reason) }))
    if (over) return end()
    told.onCamera(camera)
    told.onState('on')
  }
  run().catch((reason: unknown) => fail(reason instanceof CameraProblem ? reason.reason : 'reader', reason))
  return end
}

function useVisible(): boolean {
  const [visible, setVisible] = useState(document.visibilityState === 'visible')
  useEffect(() => {
    const look = () => setVisible(document.visibilityState === 'visible')
    document.addEventListener('visibilitychange', look)
    return () => document.removeEventListener('visibilitychange', look)
  }, [])
  return visible
}
