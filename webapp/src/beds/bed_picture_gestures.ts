// Fingers, mouse, wheel and keys on a picture: moving and zooming it, and tapping something in it.

import type { ScreenPoint } from './bed_picture_view'

export interface Moves {
  move(by: ScreenPoint): void
  /** Zooms about a point; false where it is zoomed as far as it goes. */
  zoom(factor: number, about: ScreenPoint): boolean
  /** Zooms about the middle. */
  zoomIn(): void
  zoomOut(): void
  fit(): void
  tap(at: ScreenPoint): void
}

/** Pixels that a finger may slip in a tap, and how far and how late a second one makes it a double tap. */
const slip = 8
const apart = { px: 34, ms: 320 }
const doubled = 2.2
const keyStep = 70

/** Follows an element until the function that it gives is called. */
export function followGestures(element: HTMLElement, moves: Moves): () => void {
  const ending = new AbortController()
  const { signal } = ending
  const fingers = new Fingers(moves)
  const point = (event: MouseEvent): ScreenPoint => {
    const box = element.getBoundingClientRect()
    return { x: event.clientX - box.left, y: event.clientY - box.top }
  }
  element.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return
    element.setPointerCapture(event.pointerId)
    fingers.down(event.pointerId, point(event))
  }, { signal })
  element.addEventListener('pointermove', (event) => fingers.move(event.pointerId, point(event)), { signal })
  element.addEventListener('pointerup', (event) => fingers.up(event.pointerId, event.timeStamp), { signal })
  element.addEventListener('pointercancel', (event) => fingers.lost(event.pointerId), { signal })
  element.addEventListener('wheel', (event) => {
    const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 30 : 1
    // Where it is zoomed as far as it goes, the page scrolls on.
    if (moves.zoom(Math.exp(-event.deltaY * lines * (event.ctrlKey ? 0.01 : 0.002)), point(event)) || event.ctrlKey) event.preventDefault()
  }, { signal, passive: false })
  element.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || !press(event.key, moves)) return
    event.preventDefault()
  }, { signal })
  return () => ending.abort()
}

function press(key: string, moves: Moves): boolean {
  const steps: Readonly<Record<string, () => void>> = {
    '+': () => moves.zoomIn(), '=': () => moves.zoomIn(), '-': () => moves.zoomOut(), '0': () => moves.fit(),
    ArrowLeft: () => moves.move({ x: keyStep, y: 0 }), ArrowRight: () => moves.move({ x: -keyStep, y: 0 }),
    ArrowUp: () => moves.move({ x: 0, y: keyStep }), ArrowDown: () => moves.move({ x: 0, y: -keyStep }),
  }
  const step = Object.hasOwn(steps, key) ? steps[key] : undefined
  step?.()
  return step !== undefined
}

/** Where the fingers are, and whether they still may be a tap. */
class Fingers {
  private readonly on = new Map<number, ScreenPoint>()
  private began: ScreenPoint | undefined
  private lastTap: { readonly at: ScreenPoint; readonly time: number } | undefined

  constructor(private readonly moves: Moves) {}

  down(finger: number, at: ScreenPoint): void {
    this.on.set(finger, at)
    this.began = this.on.size === 1 ? at : undefined
  }

  move(finger: number, at: ScreenPoint): void {
    const was = this.on.get(finger)
    if (!was) return
    if (this.began && far(this.began, at) < slip) return
    const other = [...this.on].find(([id]) => id !== finger)?.[1]
    this.on.set(finger, at)
    this.began = undefined
    if (!other) return this.moves.move({ x: at.x - was.x, y: at.y - was.y })
    const [before, now] = [middle(was, other), middle(at, other)]
    this.moves.move({ x: now.x - before.x, y: now.y - before.y })
    this.moves.zoom(Math.max(1, far(at, other)) / Math.max(1, far(was, other)), now)
  }

  up(finger: number, time: number): void {
    const at = this.on.get(finger)
    this.on.delete(finger)
    if (!at || !this.began) return
    this.began = undefined
    const twice = this.lastTap && time - this.lastTap.time < apart.ms && far(at, this.lastTap.at) < apart.px
    this.lastTap = twice ? undefined : { at, time }
    if (twice) this.moves.zoom(doubled, at)
    else this.moves.tap(at)
  }

  lost(finger: number): void {
    this.on.delete(finger)
    this.began = undefined
  }
}

function far(a: ScreenPoint, b: ScreenPoint): number {
  return Math.hypot(a.x - b.x, a.y - b.y)
}

function middle(a: ScreenPoint, b: ScreenPoint): ScreenPoint {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }
}
