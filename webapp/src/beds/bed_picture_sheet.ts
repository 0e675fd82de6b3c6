// How a bed lies on screen or paper: to scale and turned, never mirrored, with its length along the longer
// side. A bed much longer than wide is cut into strips that lie side by side in walking order, since whole it
// would be a thread; cuts run between two places.

import type { Ground, Spot } from './bed_picture_ground'

/** CSS pixels, or dots of paper. */
export interface Size {
  readonly width: number
  readonly height: number
}

/** A point of the sheet, in its pixels at zoom 1. */
export interface Point {
  readonly u: number
  readonly v: number
}

/** A piece of the bed, and where on the sheet it lies. */
export interface Strip extends Point, Size {
  /** Its first and last number along the lines. */
  readonly from: number
  readonly to: number
}

export interface Sheet extends Size {
  readonly ground: Ground
  /** Whether numbers run down; else they run to the right, and the first line lies lowest. */
  readonly down: boolean
  /** Pixels to a millimetre. */
  readonly scale: number
  /** Room that the numbers along the edges take. */
  readonly edge: Size
  readonly strips: readonly Strip[]
}

/** Of the size of text. */
const digitWidth = 0.65

/** Between two strips, and around everything. */
const gap = 10
const rim = 5
/** A further cut must draw the bed so much larger. */
const worthACut = 1.2
const mostStrips = 24

/** The sheet that shows the bed largest in a room; numbers stand at its edges in a size of text, 0 for none. */
export function sheetFor(ground: Ground, room: Size, fontSize: number): Sheet {
  const down = room.height >= room.width
  const digits = String(down ? ground.numbers : ground.lines).length
  const edge = { width: fontSize * (digits * digitWidth + 0.6), height: fontSize * 1.4 }
  let best = cutInto(1, ground, room, edge, down)
  for (let pieces = 2; pieces <= Math.min(mostStrips, ground.numbers); pieces++) {
    const next = cutInto(pieces, ground, room, edge, down)
    if (next.scale > best.scale * worthACut) best = next
  }
  return best
}

function cutInto(pieces: number, ground: Ground, room: Size, edge: Size, down: boolean): Sheet {
  const each = Math.ceil(ground.numbers / pieces)
  const count = Math.ceil(ground.numbers / each)
  const run = (ground.length * each) / ground.numbers
  // Along the strips there is one edge, across them one for each.
  const along = (down ? room.height - edge.height : room.width - edge.width) - 2 * rim
  const across = (down ? room.width - count * edge.width : room.height - count * edge.height) - (count - 1) * gap - 2 * rim
  const scale = Math.max(0, Math.min(along / run, across / (count * ground.width)))
  const strips = Array.from({ length: count }, (_, i): Strip => {
    const [from, to] = [i * each + 1, Math.min(ground.numbers, (i + 1) * each)]
    const length = ((to - from + 1) * ground.length * scale) / ground.numbers
    const width = ground.width * scale
    return down
      ? { from, to, u: rim + edge.width + i * (edge.width + width + gap), v: rim + edge.height, width, height: length }
      : { from, to, u: rim + edge.width, v: rim + edge.height + i * (edge.height + width + gap), width: length, height: width }
  })
  const ends = (of: (strip: Strip) => number) => Math.max(...strips.map(of)) + rim
  return { ground, down, scale, edge, strips, width: ends((s) => s.u + s.width), height: ends((s) => s.v + s.height) }
}

/** Where a spot of the bed lies on the sheet. */
export function onSheet({ ground, down, scale, strips }: Sheet, { x, y }: Spot): Point {
  const each = ground.length / ground.numbers
  const number = Math.floor(x / each) + 1
  const strip = strips.find(({ to }) => number <= to) ?? strips.at(-1)
  if (!strip) return { u: 0, v: 0 }
  const [along, across] = [(x - (strip.from - 1) * each) * scale, y * scale]
  return down ? { u: strip.u + across, v: strip.v + along } : { u: strip.u + along, v: strip.v + strip.height - across }
}
