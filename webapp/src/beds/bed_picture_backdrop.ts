// A painting kept a little beyond what is seen, so that moving and zooming the picture copies it instead of painting
// every head again.

import { type Painting, paint } from './bed_picture_paint'

/** How far beyond each side, in parts of the room. */
const beyond = 0.4

export class Backdrop {
  private readonly canvas = document.createElement('canvas')
  private held: Painting | undefined

  /** Forgets what is held. */
  forget(): void {
    this.held = undefined
  }

  /** Gives its memory back too. */
  drop(): void {
    this.forget()
    this.canvas.width = this.canvas.height = 0
  }

  /** Puts what is seen onto a canvas; what is held anew is painted whole. */
  show(ctx: CanvasRenderingContext2D, seen: Painting): void {
    const held = this.held && covers(this.held, seen) ? this.held : this.hold(seen)
    if (!held) return paint(ctx, seen)
    ctx.setTransform(1, 0, 0, 1, 0, 0)
    ctx.drawImage(this.canvas, Math.round((seen.view.x - held.view.x) * seen.ratio), Math.round((seen.view.y - held.view.y) * seen.ratio))
  }

  /** The same where it is zoomed: coarse, since it moves on at once. */
  zoom(ctx: CanvasRenderingContext2D, seen: Painting): void {
    const held = this.held && fills(this.held, seen) ? this.held : this.hold(seen)
    if (!held) return paint(ctx, seen)
    const { x, y, by } = corner(held, seen)
    ctx.setTransform(1, 0, 0, 1, 0, 0)
    ctx.imageSmoothingEnabled = false
    ctx.drawImage(this.canvas, x * seen.ratio, y * seen.ratio, this.canvas.width * by, this.canvas.height * by)
  }

  private hold(seen: Painting): Painting | undefined {
    const painted = widened(seen)
    const [width, height] = [Math.round(painted.room.width * seen.ratio), Math.round(painted.room.height * seen.ratio)]
    if (this.canvas.width !== width || this.canvas.height !== height) [this.canvas.width, this.canvas.height] = [width, height]
    const ctx = this.canvas.getContext('2d', { alpha: false })
    if (!ctx) return undefined
    paint(ctx, painted)
    this.held = painted
    return painted
  }
}

/** A painting that reaches as far as what is held. */
export function widened(seen: Painting): Painting {
  const { room, view } = seen
  const [aside, above] = [Math.round(room.width * beyond), Math.round(room.height * beyond)]
  return { ...seen, room: { width: room.width + 2 * aside, height: room.height + 2 * above }, view: { ...view, x: view.x + aside, y: view.y + above } }
}

/** Where the held painting's corner lies in the room, and how many times as large it is there. */
function corner(held: Painting, { view }: Painting): { readonly x: number; readonly y: number; readonly by: number } {
  const by = view.zoom / held.view.zoom
  return { x: view.x - held.view.x * by, y: view.y - held.view.y * by, by }
}

function isOf(held: Painting, seen: Painting): boolean {
  return held.scene === seen.scene && held.sprites === seen.sprites && held.ratio === seen.ratio
}

function covers(held: Painting, seen: Painting): boolean {
  return held.view.zoom === seen.view.zoom && fills(held, seen)
}

/** Times beyond which what is held is too coarse, or too fine to be worth copying. */
const mostCoarse = 2
const mostFine = 0.4

/** Whether it fills the room, zoomed to what is seen. */
function fills(held: Painting, seen: Painting): boolean {
  const { x, y, by } = corner(held, seen)
  if (!isOf(held, seen) || by > mostCoarse || by < mostFine) return false
  return x <= 0 && y <= 0 && x + held.room.width * by >= seen.room.width && y + held.room.height * by >= seen.room.height
}
