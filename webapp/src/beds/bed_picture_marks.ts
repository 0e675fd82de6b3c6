// What is marked about the heads of a bed's picture: flags as rings and pennants, drift, codes, and the chosen one.

import type { Ink } from './bed_picture_ink'
import type { Drift } from './bed_picture_measured'
import { at, type Dot, pitchSeen, radius, type Scene } from './bed_picture_scene'
import type { Size } from './bed_picture_sheet'
import type { ScreenPoint, View } from './bed_picture_view'

/** A ring for a mother plant, a dashed one for a colour that is off, a pennant for any other flag; who drifted bears a badge. */
export function paintMarks(ctx: CanvasRenderingContext2D, dot: Dot, view: View, pitch: number, ink: Ink): void {
  const { x, y } = at(dot, view)
  const { flags } = dot.head
  const thick = thickness(pitch)
  let r = radius(dot, view) + thick
  ctx.strokeStyle = ctx.fillStyle = ink.ink
  ctx.lineWidth = thick
  if (flags.includes('mother')) {
    circle(ctx, { x, y }, (r += thick))
    ctx.stroke()
    r += thick
  }
  if (flags.includes('colour_off')) {
    ctx.setLineDash([thick * 1.8, thick * 1.6])
    circle(ctx, { x, y }, (r += thick))
    ctx.stroke()
    ctx.setLineDash([])
    r += thick
  }
  const high = Math.max(7, Math.min(18, pitch * 0.36))
  if (flags.some((kind) => kind !== 'mother' && kind !== 'colour_off')) pennant(ctx, x + r * 0.6, y - r * 0.6, high)
  const drift = dot.head.told?.drift
  if (drift) badge(ctx, drift, x - r * 0.7, y + r * 0.7, high * 0.5, ink)
}

/** A full triangle for who drifted, an open one for who is to be watched, set off from any flower. A square on its corner is a seedling's. */
function badge(ctx: CanvasRenderingContext2D, drift: Drift, x: number, y: number, r: number, ink: Ink): void {
  ctx.beginPath()
  ctx.moveTo(x, y - r)
  ctx.lineTo(x + 0.95 * r, y + 0.75 * r)
  ctx.lineTo(x - 0.95 * r, y + 0.75 * r)
  ctx.closePath()
  ctx.lineJoin = 'round'
  ctx.strokeStyle = ink.paper
  ctx.lineWidth = r * 0.5 + 3
  ctx.stroke()
  ctx.fillStyle = drift === 'drift' ? ink.ink : ink.paper
  ctx.fill()
  ctx.strokeStyle = ink.ink
  ctx.lineWidth = Math.max(1.4, r * 0.3)
  ctx.stroke()
}

/** Of rings and poles. */
function thickness(pitch: number): number {
  return Math.max(1.2, Math.min(2.5, pitch * 0.055))
}

/** A little flag whose pole stands on a point. */
function pennant(ctx: CanvasRenderingContext2D, x: number, y: number, high: number): void {
  ctx.beginPath()
  ctx.moveTo(x, y)
  ctx.lineTo(x, y - high)
  ctx.stroke()
  ctx.beginPath()
  ctx.moveTo(x, y - high)
  ctx.lineTo(x + high * 0.75, y - high * 0.72)
  ctx.lineTo(x, y - high * 0.44)
  ctx.fill()
}

/** Codes are written where a place has room for this many times the size of text. */
const codesFrom = 5.5

export function paintCodes(ctx: CanvasRenderingContext2D, scene: Scene, view: View, room: Size, ink: Ink): void {
  const pitch = pitchSeen(scene, view)
  if (pitch < ink.fontSize * codesFrom) return
  ctx.font = ink.font
  ctx.strokeStyle = ink.paper
  ctx.fillStyle = ink.ink
  ctx.lineWidth = 4
  ctx.lineJoin = 'round'
  ctx.textAlign = 'center'
  ctx.textBaseline = 'top'
  for (const dot of scene.dots) {
    const { x, y } = at(dot, view)
    if (dot.head.seedling || x < -60 || y < -90 || x > room.width + 60 || y > room.height + 90) continue
    const below = y + Math.min(radius(dot, view), pitch * 0.36) + 3
    ctx.strokeText(dot.head.plant.code, x, below)
    ctx.fillText(dot.head.plant.code, x, below)
  }
}

/** In the green of what is chosen, with a rim of paper that sets it off from any flower. */
export function paintChosen(ctx: CanvasRenderingContext2D, dot: Dot, view: View, pitch: number, ink: Ink): void {
  const { flags } = dot.head
  const rings = Number(flags.includes('mother')) + Number(flags.includes('colour_off'))
  const r = radius(dot, view) + 6 + 2 * rings * thickness(pitch)
  for (const [colour, thick] of [[ink.card, 7], [ink.leaf, 4]] as const) {
    ctx.strokeStyle = colour
    ctx.lineWidth = thick
    circle(ctx, at(dot, view), Math.max(r, 12))
    ctx.stroke()
  }
}

export function circle(ctx: CanvasRenderingContext2D, { x, y }: ScreenPoint, r: number): void {
  ctx.beginPath()
  ctx.arc(x, y, r, 0, 2 * Math.PI)
}

