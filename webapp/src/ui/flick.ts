// A tap, and a flick upwards, told apart on one button. A finger that slips a little still taps.

import { useMemo, useRef } from 'preact/hooks'

/** Further than a glove slips and less than a thumb reaches, in CSS pixels. */
const reach = 40

/** What a touch that moved so far was; undefined where it was neither. */
export function touchOf(dx: number, dy: number): 'tap' | 'flick' | undefined {
  if (-dy >= reach && -dy > Math.abs(dx)) return 'flick'
  return Math.hypot(dx, dy) < reach ? 'tap' : undefined
}

export interface Touched {
  readonly onPointerDown: (event: PointerEvent) => void
  readonly onPointerUp: (event: PointerEvent) => void
  readonly onClick: (event: MouseEvent) => void
}

/** The same handlers at each drawing, which call what was given last. Without onFlick a flick is no tap. */
export function useFlick(onTap: () => void, onFlick: (() => void) | undefined): Touched {
  const now = useRef({ onTap, onFlick })
  now.current = { onTap, onFlick }
  return useMemo(() => touched((touch) => (touch === 'tap' ? now.current.onTap() : now.current.onFlick?.())), [])
}

/** Handlers that tell each touch once. */
export function touched(onTouch: (touch: 'tap' | 'flick') => void): Touched {
  let from: { readonly x: number; readonly y: number } | undefined
  let answered = false
  return {
    onPointerDown(event) {
      from = event.isPrimary && event.button === 0 ? { x: event.clientX, y: event.clientY } : undefined
      answered = false
      // A mouse that leaves the button would end its flick elsewhere; a finger never does.
      if (from && event.currentTarget instanceof Element) event.currentTarget.setPointerCapture(event.pointerId)
    },
    onPointerUp(event) {
      if (!from) return
      const touch = touchOf(event.clientX - from.x, event.clientY - from.y)
      from = undefined
      answered = true // also where it was neither: the click behind a drag is no tap
      if (touch) onTouch(touch)
    },
    onClick(event) {
      // Of the keyboard and of screen readers there is a click and no pointer before it.
      if (answered && event.detail > 0) answered = false
      else onTouch('tap')
    },
  }
}
