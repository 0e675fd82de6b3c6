// The camera's picture with the square to aim in. It is off while the page is hidden, and once nothing was
// read for a while.

import type { ComponentChildren } from 'preact'
import { useRef, useState } from 'preact/hooks'
import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { useWakeLock } from '../ui/wake'
import { decode } from './decode'
import { squareOf } from './picture'
import type { Reader } from './reader'
import { watch } from './sampling'
import { type SightProblem, useCamera } from './use_camera'

interface ViewfinderProps {
  readonly reader: Promise<Reader>
  /** Each time that a code is seen, the same one too. */
  readonly onCode: (text: string) => void
  /** What came of a code: below the square, which stays where it is. */
  readonly outcome: ComponentChildren
  /** Another way, beside the light. */
  readonly other: ComponentChildren
}

export function Viewfinder({ reader, onCode, outcome, other }: ViewfinderProps) {
  const tell = useLatest(onCode)
  const { video, state, camera, again } = useCamera(async (shown, { onTired, onFailure }) => {
    const opened = await reader
    const square = squareOf()
    return watch({
      picture: () => square(shown), decode: (picture) => decode(opened, picture),
      onCode: (text) => tell.current(text), onTired, onFailure,
    })
  })
  return (
    <div class="viewfinder">
      {typeof state === 'object' ? <NoCamera problem={state.problem} onRetry={again} /> : (
        <div class="sight">
          <video ref={video} muted playsInline autoPlay aria-hidden="true" />
          <SightCorners />
        </div>
      )}
      {state === 'tired' && <Tired onAgain={again} />}
      {(state === 'starting' || state === 'on') && <p class="small" role="status">{t(state === 'on' ? 'scan.aim' : 'scan.starting')}</p>}
      {outcome}
      <div class="buttons">
        {state === 'on' && camera?.light && <Light light={camera.light} />}
        {other}
      </div>
      {state === 'on' && <Awake />}
    </div>
  )
}

function Tired({ onAgain }: { readonly onAgain: () => void }) {
  return (
    <div class="note undoable">
      <p role="status">{t('scan.tired')}</p>
      <button type="button" class="btn" onClick={onAgain}>{t('scan.on')}</button>
    </div>
  )
}

/** Four corners, white on a dark edge so that they show on any ground. */
function SightCorners() {
  const corners = 'M4 26V8a4 4 0 0 1 4-4h18M74 4h18a4 4 0 0 1 4 4v18M96 74v18a4 4 0 0 1-4 4H74M26 96H8a4 4 0 0 1-4-4V74'
  return (
    <svg viewBox="0 0 100 100" aria-hidden="true">
      <path d={corners} stroke="#000000" stroke-width="3.4" opacity="0.55" />
      <path d={corners} stroke="#ffffff" stroke-width="1.8" />
    </svg>
  )
}

function Awake() {
  useWakeLock()
  return null
}

function Light({ light }: { readonly light: (on: boolean) => Promise<void> }) {
  const [on, setOn] = useState(false)
  const turn = () => light(!on).then(() => setOn(!on), (reason: unknown) => console.error('turning the camera’s light', reason))
  return (
    <button type="button" class="btn tall" aria-pressed={on} onClick={() => void turn()}><Icon name="light" />{t('scan.light')}</button>
  )
}

function NoCamera({ problem, onRetry }: { readonly problem: SightProblem; readonly onRetry: () => void }) {
  const mayHelp = problem !== 'insecure' && problem !== 'reader'
  return (
    <div class="note warn" role="alert">
      <p>{t(`scan.problem.${problem}`)}</p>
      {mayHelp && <button type="button" class="btn" onClick={onRetry}>{t('try_again')}</button>}
    </div>
  )
}

function useLatest<T>(value: T): { readonly current: T } {
  const latest = useRef(value)
  latest.current = value
  return latest
}
