// A button that wants to be held for a second, by a finger or by a key, and shows how far it is.

import { useEffect, useRef, useState } from 'preact/hooks'
import { t } from '../messages/messages'

/** Long enough that no pocket does it, short enough for a hand full of stems. */
const holdFor = 1000
const often = 50

export function HoldButton({ onHeld }: { readonly onHeld: () => void }) {
  const [share, setShare] = useState<number>()
  const timer = useRef<ReturnType<typeof setInterval> | undefined>(undefined)
  const pointed = useRef(false)
  const stop = () => {
    clearInterval(timer.current)
    timer.current = undefined
    setShare(undefined)
  }
  useEffect(() => stop, [])
  const start = () => {
    if (timer.current !== undefined) return // a key that is held says so again and again
    const since = performance.now()
    setShare(0)
    timer.current = setInterval(() => {
      const held = (performance.now() - since) / holdFor
      if (held < 1) return setShare(held)
      stop()
      onHeld()
    }, often)
  }
  const isHeld = (event: KeyboardEvent) => event.key === ' ' || event.key === 'Enter'
  return (
    <div class="hold">
      <button
        type="button" class="btn main" aria-describedby="hold-hint" autofocus
        onPointerDown={() => { pointed.current = true; start() }}
        onPointerUp={stop} onPointerLeave={stop} onPointerCancel={stop} onBlur={stop} onContextMenu={(event) => event.preventDefault()}
        onKeyDown={(event) => {
          if (event.defaultPrevented || !isHeld(event)) return
          event.preventDefault()
          start()
        }}
        onKeyUp={(event) => {
          if (!isHeld(event)) return
          event.preventDefault()
          stop()
        }}
        // A screen reader presses without a pointer or a key, on purpose and at once.
        onClick={() => {
          if (!pointed.current) onHeld()
          pointed.current = false
        }}
      >
        {share === undefined ? t('lock.hold') : t('lock.holding')}
      </button>
      <progress max="1" value={share ?? 0} aria-label={t('lock.holding')} />
      <p class="small" id="hold-hint">{t('lock.hint')}</p>
    </div>
  )
}
