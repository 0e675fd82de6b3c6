// The colour card's layout in millimetres, x to the right and y down from its upper left corner. Mirrors
// internal/tags/card.go; testdata/vectors/card.json holds both to each other.

export const cardWidth = 90
export const cardHeight = 66

/** The layout that this app reads. */
export const cardVersion = 1

export const codeModules = 21
/** 12 dots of a printer of 300 dots an inch. */
export const codeModule = (12 * 25.4) / 300
export const codeX = cardWidth / 2 - (codeModules * codeModule) / 2
export const codeY = 30 - (codeModules * codeModule) / 2

export const patchSide = 12.5

/** As they are printed, in 8-bit sRGB: five greys from dark to light, six colours, the bare paper. */
export const cardColours: readonly (readonly [number, number, number])[] = [
  [54, 54, 54], [90, 90, 90], [130, 130, 130], [172, 172, 172], [216, 216, 216],
  [190, 46, 52], [226, 128, 50], [232, 196, 48], [78, 134, 72], [92, 72, 158], [210, 96, 146],
  [255, 255, 255],
]
export const greys = 5
export const paper = cardColours.length - 1

export interface Patch {
  /** Of its upper left corner. */
  readonly x: number
  readonly y: number
  /** Its place in `cardColours`. */
  readonly colour: number
}

const slots = [
  [2, 11, 9, 2],
  [5, 0, 1, 7],
  [8, 3, 4, 10],
  [2, 6, 11, 2],
]
const columns = [2, 16.5, 61, 75.5]
const rows = [2, 16.5, 31, 45.5]

/** By rows, those of bare paper too. */
export const patches: readonly Patch[] = slots.flatMap((row, y) => row.map((colour, x) => ({ x: columns[x]!, y: rows[y]!, colour })))

/** The batch that a card's QR code names; undefined where it is no card's. */
export function batchOf(payload: string): { readonly version: number; readonly batch: string } | undefined {
  const [, version, batch] = /^CARD\/(\d{1,3})\/([0-9A-Z]{1,12})$/.exec(payload) ?? []
  return version !== undefined && batch !== undefined ? { version: Number(version), batch } : undefined
}
