// Heads drawn once for each look and size, and then only copied: that is what lets 2,000 of them move. What is drawn
// is a stencil for each shape and size; dyeing it with a plant's own colour costs little more than a copy.

import { blossomPath, floretPaths, ground, layers, leastWithEyes } from '../ui/florets'
import type { Stood } from './bed_picture'
import type { Ink } from './bed_picture_ink'

/**
 * flower: its size is its stems. plain: nobody recorded its stems, so a single blossom stands for it. bare: counted, and gave none.
 * seedling: nobody planted it. gap: a plant stood there.
 */
export type Shape = 'flower' | 'plain' | 'bare' | 'seedling' | 'gap'

export function shapeOf({ seedling, stems }: Pick<Stood, 'seedling' | 'stems'>): Shape {
  if (seedling) return 'seedling'
  if (stems.told === 'nobody') return 'plain'
  return stems.n === 0 ? 'bare' : 'flower'
}

export interface Look {
  readonly shape: Shape
  /** '#rrggbb'; anything else leaves it hollow. */
  readonly swatch: string
  /** Whether its middle is left open: its colour was told by eye, where others were measured. */
  readonly open: boolean
}

/** Sizes go up in steps that no eye tells apart. */
const step = Math.log(1.05)

function sizeOf(r: number): number {
  return Math.round(Math.log(r) / step)
}

/** Around a shape, for its outline. */
const rim = 2
/** Dots of all sprites together, after which those that are not in use make room. */
const mostDots = 12_000_000
/** What drawing a stencil costs, where dyeing one costs 1. */
const stencilCost = 6

export class Sprites {
  /** By look, and of each by size. */
  private readonly made = new Map<string, Map<number, Kept>>()
  private readonly stencils = new Map<string, Stencil>()
  private dots = 0
  /** How much more may be made now. */
  private budget = Infinity
  private short = false
  private turn = 0

  constructor(readonly ink: Ink) {}

  /** Lets so much be made until it is called again, in dyed stencils; what is short then is stood in for by the nearest size. */
  allow(budget: number): void {
    this.budget = budget
    this.short = false
    this.turn++
    if (this.dots > mostDots) this.makeRoom()
  }

  /** What making a look of a radius would cost, in dyed stencils: 0 where it is there. */
  cost(look: Look, r: number): number {
    const size = sizeOf(r)
    const kept = this.sizesOf(look).get(size)
    if (kept) kept.turn = this.turn
    return kept ? 0 : this.stencils.has(stencilKey(look, size)) ? 1 : 1 + stencilCost
  }

  /** Makes those that are not there, whatever was allowed: many at once cost little more than one. */
  makeAll(wanted: readonly { readonly look: Look; readonly r: number }[]): void {
    const missing = new Map<string, Missing>()
    for (const { look, r } of wanted) {
      const size = sizeOf(r)
      if (!this.sizesOf(look).has(size)) missing.set(`${keyOf(look)} ${size}`, { look, size })
    }
    if (missing.size > 0) this.add([...missing.values()])
  }

  /** Whether one was stood in for since. */
  get isShort(): boolean {
    return this.short
  }

  /** Copies a look of a radius to around a point, all in the canvas's own dots. */
  put(ctx: CanvasRenderingContext2D, look: Look, x: number, y: number, r: number): void {
    const size = sizeOf(r)
    const of = this.sizesOf(look)
    const own = of.get(size) ?? this.make(look, size)
    const kept = own ?? nearest(of, size)
    if (!kept) return void standIn(ctx, look, this.ink, x, y, r)
    kept.turn = this.turn
    const { sheet, left, side } = kept
    if (own) return void ctx.drawImage(sheet, left, 0, side, side, Math.round(x - side / 2), Math.round(y - side / 2), side, side)
    const as = side * Math.exp((size - kept.size) * step)
    ctx.imageSmoothingEnabled = false // it is there for a moment, and a blur costs more than a copy
    ctx.drawImage(sheet, left, 0, side, side, x - as / 2, y - as / 2, as, as)
  }

  private sizesOf(look: Look): Map<number, Kept> {
    const key = keyOf(look)
    const known = this.made.get(key)
    if (known) return known
    const of = new Map<number, Kept>()
    this.made.set(key, of)
    return of
  }

  private make(look: Look, size: number): Kept | undefined {
    if (this.budget <= 0) {
      this.short = true
      return undefined
    }
    this.budget--
    this.add([{ look, size }])
    return this.sizesOf(look).get(size)
  }

  /** Dyes stencils side by side on one sheet. */
  private add(missing: readonly Missing[]): void {
    const stencils = missing.map(({ look, size }) => this.stencil(look, size))
    const sheet = dyed(stencils, missing.map(({ look }) => look.swatch))
    let left = 0
    missing.forEach(({ look, size }, k) => {
      const { side } = stencils[k]!
      this.sizesOf(look).set(size, { sheet, left, side, size, turn: this.turn })
      this.dots += side * side
      left += side
    })
  }

  private stencil(look: Look, size: number): Stencil {
    const { shape, swatch, open } = look
    const hollow = !isColour(swatch)
    const key = stencilKey(look, size)
    const known = this.stencils.get(key)
    if (known) return known
    const stencil = cut({ shape, hollow, open }, Math.exp(size * step), this.ink)
    this.budget -= stencilCost
    this.stencils.set(key, stencil)
    this.dots += 2 * stencil.side * stencil.side
    return stencil
  }

  /** Lets go of all that was not copied in the last turn, and of all stencils. */
  private makeRoom(): void {
    this.stencils.clear()
    this.dots = 0
    for (const [key, of] of this.made) {
      for (const [size, { side, turn }] of of) {
        if (turn >= this.turn - 1) this.dots += side * side
        else of.delete(size)
      }
      if (of.size === 0) this.made.delete(key)
    }
  }
}

interface Missing {
  readonly look: Look
  readonly size: number
}

function stencilKey({ shape, swatch, open }: Look, size: number): string {
  return `${shape}${isColour(swatch) ? '' : 'h'}${open ? 'o' : ''}${size}`
}

function keyOf({ shape, swatch, open }: Look): string {
  return `${shape}${swatch}${open ? 'o' : ''}`
}

interface Kept {
  /** On which it lies, so far from its left. */
  readonly sheet: Sprite
  readonly left: number
  readonly side: number
  readonly size: number
  /** In which it was copied last. */
  turn: number
}

/** Steps of size within which another size stands in. */
const farthest = 60

function nearest(of: ReadonlyMap<number, Kept>, size: number): Kept | undefined {
  let [found, off]: [Kept | undefined, number] = [undefined, farthest]
  for (const kept of of.values()) {
    const away = Math.abs(kept.size - size)
    if (away <= off) [found, off] = [kept, away]
  }
  return found
}

/** A disc for a moment, where no size of a look is there yet. */
function standIn(ctx: CanvasRenderingContext2D, { swatch }: Look, ink: Ink, x: number, y: number, r: number): void {
  ctx.fillStyle = isColour(swatch) ? swatch : ink.line2
  ctx.beginPath()
  ctx.arc(x, y, r * ground.share, 0, 2 * Math.PI)
  ctx.fill()
}

function isColour(swatch: string): boolean {
  return /^#[0-9a-f]{6}$/i.test(swatch)
}

/** A bitmap never changes, so that copying it asks nothing; browsers without it copy a canvas. */
type Sprite = HTMLCanvasElement | ImageBitmap
type Drawing = CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D

/** Draws on a canvas of its own. */
function bitmap(width: number, height: number, draw: (ctx: Drawing) => void): Sprite {
  const offscreen = typeof OffscreenCanvas === 'undefined' ? undefined : new OffscreenCanvas(width, height)
  const drawing = offscreen?.getContext('2d')
  if (offscreen && drawing) {
    draw(drawing)
    return offscreen.transferToImageBitmap()
  }
  const canvas = document.createElement('canvas')
  ;[canvas.width, canvas.height] = [width, height]
  const ctx = canvas.getContext('2d')
  if (ctx) draw(ctx)
  return canvas
}

/** A shape without its colour: what the colour fills, and what lies over it, its shades and lines. */
interface Stencil {
  readonly side: number
  readonly body: Sprite
  readonly over: Sprite
}

function dyed(stencils: readonly Stencil[], swatches: readonly string[]): Sprite {
  const width = stencils.reduce((sum, { side }) => sum + side, 0)
  return bitmap(width, Math.max(...stencils.map(({ side }) => side)), (ctx) => {
    let left = 0
    for (const [k, { side, body, over }] of stencils.entries()) {
      ctx.globalCompositeOperation = 'source-over'
      ctx.drawImage(body, left, 0)
      ctx.globalCompositeOperation = 'source-atop'
      const swatch = swatches[k] ?? ''
      if (isColour(swatch)) {
        ctx.fillStyle = swatch
        ctx.fillRect(left, 0, side, side)
      }
      ctx.drawImage(over, left, 0)
      left += side
    }
  })
}

/** A part of a shape: filled, or drawn as a line of a width. */
interface Part {
  readonly path: Path2D
  /** So much of this colour is mixed with the plant's, in a hundred. */
  readonly towards: string
  readonly percent: number
  readonly line?: number
  readonly dash?: readonly number[]
  /** Of what is not opaque. */
  readonly opacity?: number
}

interface Cut {
  readonly shape: Shape
  readonly hollow: boolean
  readonly open: boolean
}

const barReach = 1.9

function cut(what: Cut, r: number, ink: Ink): Stencil {
  const reach = what.shape === 'bare' ? r * barReach : what.shape === 'seedling' ? r * Math.SQRT2 : r
  const side = 2 * Math.ceil(reach + rim)
  const parts = partsOf(what, r, ink)
  const body = bitmap(side, side, (ctx) => {
    ctx.translate(side / 2, side / 2)
    for (const part of parts) {
      ctx.globalAlpha = part.opacity ?? 1
      drawPart(ctx, part, '#808080')
    }
  })
  const over = bitmap(side, side, (ctx) => {
    ctx.translate(side / 2, side / 2)
    for (const part of parts) {
      ctx.globalCompositeOperation = 'destination-out'
      drawPart(ctx, part, '#000000')
      ctx.globalCompositeOperation = 'source-over'
      ctx.globalAlpha = part.percent / 100
      drawPart(ctx, part, part.towards)
      ctx.globalAlpha = 1
    }
  })
  return { side, body, over }
}

function drawPart(ctx: Drawing, { path, line, dash }: Part, colour: string): void {
  if (line === undefined) return filled(ctx, path, colour)
  ctx.lineWidth = line
  ctx.setLineDash([...(dash ?? [])])
  ctx.strokeStyle = colour
  ctx.stroke(path)
}

/** The parts of a shape, the lowest first. */
function partsOf({ shape, hollow, open }: Cut, r: number, ink: Ink): readonly Part[] {
  const thin = Math.max(1, Math.min(2.5, r * 0.09))
  const edge = (path: Path2D, line = thin): Part => ({ path, line, towards: ink.line2, percent: 100 })
  const inside = (path: Path2D, towards = '#000000', percent = 0): Part => (hollow ? { path, towards: ink.card, percent: 100 } : { path, towards, percent })
  const middle = disc(r * middleShare)
  const opening = open ? [edge(middle, 2 * thin), { path: middle, towards: ink.paper, percent: 100 }] : []
  switch (shape) {
    case 'gap':
      return [{ path: disc(r), towards: ink.line2, percent: 100 }]
    case 'flower':
      return [...(hollow ? hollowFlower(r, edge, inside) : flower(r)), ...opening]
    case 'plain': {
      const petals = new Path2D(blossomPath(r - thin))
      const eye = disc(r * 0.24)
      return [edge(petals, 2 * thin), inside(petals, '#ffffff', 10), hollow ? { path: eye, towards: ink.line2, percent: 100 } : inside(eye, '#fff3d0', 65), ...opening]
    }
    case 'bare': {
      const body = disc(r - thin / 2)
      const bar: Part = { path: new Path2D(`M${-r * barReach} 0H${r * barReach}`), line: Math.max(1.5, r * 0.35), towards: ink.ink, percent: 100 }
      return [inside(body), edge(body), ...opening, bar]
    }
    case 'seedling': {
      // A square on its corner with a dashed edge: unlike any head at any size.
      const side = r * Math.SQRT2
      const square = new Path2D(`M0 ${-side}L${side} 0L0 ${side}L${-side} 0z`)
      const dash = [Math.max(2, r * 0.4), Math.max(1.5, r * 0.28)]
      return [inside(square), ...opening, { path: square, line: Math.max(1, r * 0.16), dash, towards: ink.ink, percent: 100 }]
    }
  }
}

/** Of the radius, that an open middle takes: so much that it is seen where heads are small, and the colour too. */
const middleShare = 0.45

function flower(r: number): Part[] {
  const florets = floretPaths(r)
  return [
    { path: disc(r * ground.share), towards: ground.towards, percent: ground.percent, opacity: ground.opacity },
    ...layers.flatMap((layer) => (layer.florets === 'eyes' && r < leastWithEyes
      ? []
      : [{ path: new Path2D(florets[layer.florets]), towards: layer.towards, percent: layer.percent }])),
  ]
}

function hollowFlower(r: number, edge: (path: Path2D) => Part, inside: (path: Path2D) => Part): Part[] {
  const { deep, mid, high } = floretPaths(r)
  return [mid, deep, high].flatMap((part) => {
    const path = new Path2D(part)
    return [inside(path), edge(path)]
  })
}

function disc(r: number): Path2D {
  const path = new Path2D()
  path.arc(0, 0, r, 0, 2 * Math.PI)
  return path
}

function filled(ctx: Drawing, path: Path2D, colour: string): void {
  ctx.fillStyle = colour
  ctx.fill(path)
}
