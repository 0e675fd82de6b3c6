// Paints the ground of a bed's picture, and the numbers of its lines and places along the edges.

import type { Ink } from './bed_picture_ink'
import { at, pitchSeen, type Scene } from './bed_picture_scene'
import type { Strip } from './bed_picture_sheet'
import type { View } from './bed_picture_view'

interface Painting {
  readonly scene: Scene
  readonly view: View
}

/** The earth of each strip; where the bed goes on in the next, its edge is broken. */
export function paintGround(ctx: CanvasRenderingContext2D, painting: Painting, ink: Ink): void {
  const { scene: { sheet }, view } = painting
  for (const strip of sheet.strips) {
    const [w, h] = [strip.width * view.zoom, strip.height * view.zoom]
    const { x, y } = at(strip, view)
    ctx.fillStyle = ink.paper
    ctx.fillRect(x, y, w, h)
    ctx.strokeStyle = ink.line2
    ctx.lineWidth = 1
    const sides: [boolean, number, number, number, number][] = sheet.down
      ? [[false, x, y, x, y + h], [false, x + w, y, x + w, y + h], [strip.from > 1, x, y, x + w, y], [strip.to < sheet.ground.numbers, x, y + h, x + w, y + h]]
      : [[false, x, y, x + w, y], [false, x, y + h, x + w, y + h], [strip.from > 1, x, y, x, y + h], [strip.to < sheet.ground.numbers, x + w, y, x + w, y + h]]
    for (const [cut, x1, y1, x2, y2] of sides) {
      ctx.setLineDash(cut ? [2, 4] : [])
      ctx.beginPath()
      ctx.moveTo(x1, y1)
      ctx.lineTo(x2, y2)
      ctx.stroke()
    }
    ctx.setLineDash([])
    if (sheet.edge.width > 0) paintNumbers(ctx, painting, strip, ink)
  }
}

/** What is free beside a strip. */
const edgeRim = 4

/** Numbers along the strip where there is room for them, and its lines across. */
function paintNumbers(ctx: CanvasRenderingContext2D, { scene, view }: Painting, strip: Strip, ink: Ink): void {
  const { ground, down } = scene.sheet
  ctx.font = ink.font
  ctx.fillStyle = ink.ink2
  const { x, y } = at(strip, view)
  // Heads reach beyond the edge a little.
  const off = 4 + Math.min(12, pitchSeen(scene, view) * 0.1)
  const each = ((down ? strip.height : strip.width) * view.zoom) / (strip.to - strip.from + 1)
  const every = [1, 2, 5, 10, 20, 50, 100].find((n) => n * each >= ink.fontSize * (down ? 1.6 : 2.4)) ?? 200
  for (let number = strip.from; number <= strip.to; number++) {
    if (number % every !== 0 && number !== strip.from) continue
    if (number === strip.from && every > 1 && every - (number % every) < every / 2) continue
    const along = (number - strip.from + 0.5) * each
    if (down) text(ctx, String(number), x - off, y + along, 'right', 'middle')
    else {
      // The last number may be wider than its place: it ends where the strip does.
      const half = ctx.measureText(String(number)).width / 2
      text(ctx, String(number), Math.min(x + along, x + strip.width * view.zoom + edgeRim - half), y - off + 2, 'center', 'bottom')
    }
  }
  const wide = ((down ? strip.width : strip.height) * view.zoom) / ground.lines
  const everyLine = [1, 2, 4, 9].find((n) => n * wide >= ink.fontSize * 1.3) ?? 20
  for (let line = 1; line <= ground.lines; line++) {
    if ((line - 1) % everyLine !== 0) continue
    if (down) text(ctx, String(line), x + (line - 0.5) * wide, y - off + 2, 'center', 'bottom')
    else text(ctx, String(line), x - off, y + strip.height * view.zoom - (line - 0.5) * wide, 'right', 'middle')
  }
}

function text(ctx: CanvasRenderingContext2D, words: string, x: number, y: number, align: CanvasTextAlign, baseline: CanvasTextBaseline): void {
  ctx.textAlign = align
  ctx.textBaseline = baseline
  ctx.fillText(words, x, y)
}
