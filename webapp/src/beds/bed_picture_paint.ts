// Paints a bed's picture: the ground with its numbers, then gaps, heads and what is marked about them.

import { paintGround } from './bed_picture_edges'
import { circle, paintCodes, paintMarks } from './bed_picture_marks'
import { at, type Dot, gapRadius, pitchSeen, radius, type Scene } from './bed_picture_scene'
import type { Size } from './bed_picture_sheet'
import type { Look, Sprites } from './bed_picture_sprites'
import type { View } from './bed_picture_view'

export interface Painting {
  readonly scene: Scene
  readonly view: View
  readonly room: Size
  /** Dots of the canvas to a CSS pixel. */
  readonly ratio: number
  readonly sprites: Sprites
  /** Whether codes are written under heads that are far enough apart. */
  readonly codes: boolean
  /** What may be made of sprites meanwhile. */
  readonly budget: number
}

/** Of what is gone. */
const faint = 0.4
const gap: Look = { shape: 'gap', swatch: '', open: false }

export function paint(ctx: CanvasRenderingContext2D, painting: Painting): void {
  const { scene, view, room, ratio, sprites } = painting
  const { ink } = sprites
  sprites.allow(painting.budget)
  ctx.setTransform(1, 0, 0, 1, 0, 0)
  ctx.fillStyle = ink.card
  ctx.fillRect(0, 0, room.width * ratio, room.height * ratio)
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0)
  paintGround(ctx, painting, ink)
  const pitch = pitchSeen(scene, view)
  ctx.setTransform(1, 0, 0, 1, 0, 0)
  for (const { u, v } of scene.gaps) {
    sprites.put(ctx, gap, (u * view.zoom + view.x) * ratio, (v * view.zoom + view.y) * ratio, gapRadius(pitch) * ratio)
  }
  for (const dot of scene.dots) paintHead(ctx, painting, dot)
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0)
  for (const dot of scene.dots) {
    if (!dot.head.gone) break // they come first
    ctx.fillStyle = ink.ink2
    circle(ctx, at(dot, view), gapRadius(pitch))
    ctx.fill()
  }
  for (const dot of scene.marked) if (isSeen(painting, dot)) paintMarks(ctx, dot, view, pitch, ink)
  if (painting.codes) paintCodes(ctx, scene, view, room, ink)
}

/** What sprites that are made at once may cost, in dyed stencils. */
const atOnce = 30

/** Makes the sprites that a painting would lack, until a time of the clock; whether all are there. */
export function prepare(painting: Painting, until: number): boolean {
  const { scene, view, ratio, sprites } = painting
  let [missing, costs]: [{ look: Look; r: number }[], number] = [[], 0]
  if (scene.gaps.length > 0) missing.push({ look: gap, r: gapRadius(pitchSeen(scene, view)) * ratio })
  for (const dot of scene.dots) {
    const r = radius(dot, view) * ratio
    const cost = isSeen(painting, dot) ? sprites.cost(dot.look, r) : 0
    if (cost === 0) continue
    missing.push({ look: dot.look, r })
    costs += cost
    if (costs < Math.min(atOnce, mostAcross / r)) continue
    sprites.makeAll(missing)
    ;[missing, costs] = [[], 0]
    if (performance.now() > until) return false
  }
  sprites.makeAll(missing)
  return true
}

/** Half of the dots that sprites made at once take side by side, at most about. */
const mostAcross = 1_000

/** Whether any of a head or of its marks lies in the room. */
function isSeen({ view, room }: Painting, dot: Dot): boolean {
  const { x, y } = at(dot, view)
  const reach = 2 * radius(dot, view) + 12
  return x > -reach && y > -reach && x < room.width + reach && y < room.height + reach
}

function paintHead(ctx: CanvasRenderingContext2D, painting: Painting, dot: Dot): void {
  if (!isSeen(painting, dot)) return
  const { view, ratio, sprites } = painting
  const { x, y } = at(dot, view)
  const r = radius(dot, view)
  if (dot.head.gone) ctx.globalAlpha = faint
  sprites.put(ctx, dot.look, x * ratio, y * ratio, r * ratio)
  if (dot.head.gone) ctx.globalAlpha = 1
}
