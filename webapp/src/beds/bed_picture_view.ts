// What of a sheet is seen: zoomed and moved, never away from the sheet. Points are the screen's, in CSS pixels.

import type { Sheet, Size } from './bed_picture_sheet'

/** A point of the sheet is seen at zoom times the point, moved by x and y. */
export interface View {
  readonly zoom: number
  readonly x: number
  readonly y: number
}

export interface ScreenPoint {
  readonly x: number
  readonly y: number
}

/** Pixels that a place may take at most, so that a short bed can be zoomed too but none without end. */
const largestPlace = 130
const leastMost = 3

export function mostZoom({ ground, scale }: Sheet): number {
  return Math.max(leastMost, largestPlace / (ground.pitch * scale))
}

/** The whole sheet in the middle of the room. */
export function fitted(sheet: Sheet, room: Size): View {
  return kept({ zoom: 1, x: 0, y: 0 }, sheet, room)
}

export function moved(view: View, by: ScreenPoint, sheet: Sheet, room: Size): View {
  return kept({ ...view, x: view.x + by.x, y: view.y + by.y }, sheet, room)
}

/** Zoomed so that what is seen at a point stays there. */
export function zoomedAt(view: View, factor: number, { x, y }: ScreenPoint, sheet: Sheet, room: Size): View {
  const zoom = Math.min(mostZoom(sheet), Math.max(1, view.zoom * factor))
  const by = zoom / view.zoom
  return kept({ zoom, x: x - (x - view.x) * by, y: y - (y - view.y) * by }, sheet, room)
}

/** Moved, if need be, so that a point of the sheet is seen well within the room. */
export function showing(view: View, u: number, v: number, sheet: Sheet, room: Size): View {
  const [x, y] = [u * view.zoom + view.x, v * view.zoom + view.y]
  const margin = Math.min(60, room.width / 4, room.height / 4)
  const within = x >= margin && x <= room.width - margin && y >= margin && y <= room.height - margin
  return within || view.zoom === 1 ? view : moved(view, { x: room.width / 2 - x, y: room.height / 2 - y }, sheet, room)
}

/** The same part of a sheet, about its middle, after the sheet was laid out anew. */
export function againSeen({ zoom, x, y }: View, before: Sheet, was: Size, now: Sheet, room: Size): View {
  const across = (was.width / 2 - x) / (zoom * before.width)
  const down = (was.height / 2 - y) / (zoom * before.height)
  return kept({ zoom, x: room.width / 2 - across * zoom * now.width, y: room.height / 2 - down * zoom * now.height }, now, room)
}

/** A view that shows no more empty room than it must. */
function kept({ zoom, x, y }: View, sheet: Sheet, room: Size): View {
  return { zoom, x: keptAlong(x, sheet.width * zoom, room.width), y: keptAlong(y, sheet.height * zoom, room.height) }
}

function keptAlong(at: number, length: number, room: number): number {
  if (length <= room) return (room - length) / 2
  return Math.min(0, Math.max(room - length, at))
}
