// The camera's picture with the card's outline, what is wrong in a few large words, and the picture taken by
// itself or on a tap. A photo that is on the device does as well.

import type { ComponentChildren } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import type { Problem } from '../colourcard/measurement'
import { t } from '../messages/messages'
import { type SightProblem, useCamera } from '../scan/use_camera'
import { foundFeedback, prepareFeedback } from '../ui/feedback'
import { useNotebook } from '../ui/notebook'
import { today } from '../ui/today'
import { useWakeLock } from '../ui/wake'
import { byItself, setByItself } from './by_itself'
import { CardOutline } from './CardOutline'
import { cameraName, frameOf, pictureSize, watchFrames } from './frames'
import { knownCards } from './known_cards'
import { type Subject, toMend } from './live_problems'
import type { Measurer } from './measurer'
import { PickFile, TakeOrPickFile } from './PickFile'
import { SightWords } from './SightWords'
import { Steadiness } from './steadiness'
import type { Glimpse } from './worker_messages'

/** What is to be measured, and with which camera, where it is not a file that tells. */
export interface Shot {
  readonly still: Blob | ImageBitmap
  readonly camera: string
}

interface CameraSightProps {
  readonly measurer: Measurer
  readonly subject: Subject
  /** Another head may still be in sight, which must not be taken by itself for this one. */
  readonly stale: boolean
  readonly onTake: (shot: Shot) => void
  /**
   * Tries what the camera sees; resolves to what is to be mended, or to nothing where it was taken, or where the camera is
   * left or the picture taken by hand while it is drawn.
   */
  readonly onTry: (see: () => Promise<Shot>, isOver: () => boolean) => Promise<Problem | undefined>
  /** Above the main action. */
  readonly above?: ComponentChildren
  /** Beside it. */
  readonly beside?: ComponentChildren
}

interface Seen {
  readonly glimpse: Glimpse
  readonly problem: Problem | undefined
  readonly stale: boolean
}

export function CameraSight({ measurer, subject, stale, onTake, onTry, above, beside }: CameraSightProps) {
  const notebook = useNotebook()
  const [seen, setSeen] = useState<Seen | undefined>(undefined)
  const frame = useFrame()
  useEffect(prepareFeedback, [])
  const { video, state, again } = useCamera(async (shown, watched) => {
    const steadiness = new Steadiness(stale)
    setSeen(undefined)
    return watchFrames({
      video: shown, measurer, cards: () => knownCards(notebook.farm.peek(), today.peek()), ...watched,
      onGlimpse: async (glimpse, isOver) => {
        const { ready, ...said } = steadiness.after({ ...glimpse, problems: toMend(glimpse, subject) }, performance.now())
        setSeen({ glimpse, ...said })
        if (!ready || !byItself.peek()) return
        const problem = await onTry(() => frame(shown), isOver)
        if (problem !== undefined) steadiness.tried(problem)
      },
    })
  }, pictureSize)
  const onFile = (still: Blob) => onTake({ still, camera: '' })
  const [missed, setMissed] = useState(false)
  const take = async () => {
    if (!video.current) return
    setMissed(false)
    try {
      const shot = await frame(video.current)
      foundFeedback()
      onTake(shot)
    } catch (reason) {
      console.error('taking the picture that the camera sees', reason)
      setMissed(true)
    }
  }
  const on = state === 'on'
  return (
    <div class="camera-sight">
      {on && <SightWords problem={seen?.problem} problems={seen?.glimpse.problems} subject={subject} stale={seen?.stale ?? false} />}
      {state === 'starting' && <p class="sight-words" role="status">{t('measuring.starting')}</p>}
      {state === 'tired' && <Tired onAgain={again} />}
      {typeof state === 'object'
        ? <NoCamera problem={state.problem} onRetry={again} />
        : (
          <div class="live">
            <video ref={video} muted playsInline autoPlay aria-hidden="true" />
            {on && seen && <CardOutline glimpse={seen.glimpse} well={seen.problem === undefined && !seen.stale} />}
            {on && <ByItself />}
          </div>
        )}
      <div class="measure-foot">
        {missed && <p class="note stop" role="alert">{t('measuring.failed.other')}</p>}
        {above}
        {typeof state === 'object'
          ? <WithoutCamera onFile={onFile} beside={beside} />
          : <Shutter ready={on} onShoot={() => void take()} onFile={onFile} beside={beside} />}
      </div>
      {on && <Awake />}
    </div>
  )
}

interface WithoutCameraProps {
  readonly onFile: (file: Blob) => void
  readonly beside: ComponentChildren
}

function WithoutCamera({ onFile, beside }: WithoutCameraProps) {
  return (
    <>
      <TakeOrPickFile onFile={onFile} />
      {beside && <div class="act two">{beside}</div>}
    </>
  )
}

interface ShutterProps extends WithoutCameraProps {
  readonly ready: boolean
  readonly onShoot: () => void
}

function Shutter({ ready, onShoot, onFile, beside }: ShutterProps) {
  return (
    <div class="act">
      <PickFile onFile={onFile} />
      {beside}
      <button type="button" class="btn main" disabled={!ready} onClick={onShoot}>{t('measuring.take')}</button>
    </div>
  )
}

/** What the camera sees at this moment, and which camera it is. */
function useFrame(): (video: HTMLVideoElement) => Promise<Shot> {
  const { device } = useNotebook()
  return async (video) => {
    const label = (video.srcObject as MediaStream | null)?.getVideoTracks()[0]?.label ?? ''
    const still = await frameOf(video)
    return { still, camera: cameraName(label, still, device) }
  }
}

function ByItself() {
  const notebook = useNotebook()
  const on = byItself.value
  return (
    <button type="button" class="btn by-itself" aria-pressed={on} aria-label={t('measuring.auto.name')} onClick={() => setByItself(notebook, !on)}>
      {t('measuring.auto')}
    </button>
  )
}

function Tired({ onAgain }: { readonly onAgain: () => void }) {
  return (
    <div class="note undoable">
      <p role="status">{t('measuring.tired')}</p>
      <button type="button" class="btn" onClick={onAgain}>{t('scan.on')}</button>
    </div>
  )
}

function NoCamera({ problem, onRetry }: { readonly problem: SightProblem; readonly onRetry: () => void }) {
  const mayHelp = problem !== 'insecure' && problem !== 'reader'
  return (
    <div class="note warn" role="alert">
      <p>{t(`measuring.camera.${problem}`)}</p>
      {mayHelp && <button type="button" class="btn" onClick={onRetry}>{t('try_again')}</button>}
    </div>
  )
}

function Awake() {
  useWakeLock()
  return null
}
