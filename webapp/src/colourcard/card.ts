// The colour card in a photo: its batch, and where it lies.

import { foundCodes, type FoundCode } from './finders'
import { batchOf, codeModule, codeModules, codeX, codeY } from './geometry'
import { located, median, type Located } from './locate'
import type { Photo, Point, ReadCodes } from './measurement'
import { halved, lightOf, pictureOf, type Picture } from './picture'
import { fromCard } from './plane'
import { cardOf, through, type Pose } from './pose'

export interface Card extends Located {
  /** Undefined where a card lies there whose code cannot be read. */
  readonly named: { readonly batch: string; readonly version: number } | undefined
  /** Standard deviation of the blur at its edges, in millimetres. */
  readonly blur: number
  /** Corners of other codes that were seen: tags, which are no heads. */
  readonly others: readonly (readonly Point[])[]
}

/** Modules by which found corners are off; the lower right is where a parallelogram has it, and not a slanted square. */
const squareError = [0.4, 0.6, 2, 0.6]
/** Share of a card's edges that must be there. */
const leastShare = 0.4

/**
 * The card in a photo, of several the one whose code is largest. One whose code cannot be read is told where there is
 * no other: it cannot be measured by, but why it cannot be read may be told.
 */
export async function cardIn(photo: Photo, picture: Picture, readCodes: ReadCodes): Promise<Card | undefined> {
  let unread: Card | undefined
  for await (const card of cardsIn(photo, picture, readCodes)) {
    if (card.named) return card
    unread ??= card
  }
  return unread
}

/** The cards in a photo, larger codes first; one may come again, from another size of the picture. */
export async function* cardsIn(photo: Photo, picture: Picture, readCodes: ReadCodes): AsyncGenerator<Card> {
  for (const level of levels(photo, picture)) {
    const codes = foundCodes(level).toSorted((a, b) => sizeOf(b) - sizeOf(a))
    for (const code of codes) {
      const place = located(photo, code.corners, squareError)
      if (!place || place.share < leastShare) continue
      const named = await nameOf(photo, place.pose, readCodes)
      yield { ...place, named, blur: median(place.seen.map(({ blur }) => blur)), others: besides(codes, place.pose) }
    }
  }
}

/** Codes whose middle does not lie on the card. */
function besides(codes: readonly FoundCode[], pose: Pose): readonly (readonly Point[])[] {
  const middle = ([a, , c]: FoundCode['corners']) => ({ x: (a.x + c.x) / 2, y: (a.y + c.y) / 2 })
  return codes.map(({ corners }) => corners).filter((corners) => fromCard(cardOf(pose, middle(corners))) > 0)
}

/** Pixels of the long side from which a picture is looked at in half its size first, and which the largest that is looked at has at least. */
const large = 1100
const largest = 2000

/** First the size at which most cards are found, then larger ones for a card that is small. */
function* levels(photo: Photo, picture: Picture): Generator<Picture> {
  if (Math.max(picture.width, picture.height) > large) yield halved(picture)
  yield picture
  if (Math.floor(Math.max(photo.width, photo.height) / largest) < picture.step && picture.step > 1) yield pictureOf(photo, largest)
}

function sizeOf({ corners: [a, b, c, d] }: FoundCode): number {
  return Math.abs((c.x - a.x) * (d.y - b.y) - (c.y - a.y) * (d.x - b.x))
}

/** Pixels of a module in the pictures that are tried: a reader may take some inner modules of one for a corner's square, and not of another. */
const tried = [6, 11, 4]

/**
 * What the code says, read from pictures of it that are straight, evenly lit and large enough: as the light is, then in
 * black and white, told apart by what is around each module, since a reflection leaves dark ones in it lighter than
 * light ones beside it.
 */
async function nameOf(photo: Photo, pose: Pose, readCodes: ReadCodes): Promise<Card['named']> {
  const light = modulesOf(photo, pose)
  const sharp = sharpened(light)
  for (const picture of [light, ...[sharp, light].flatMap((from) => [2, 3, 5].map((around) => blackAndWhite(from, around)))]) {
    for (const pixels of tried) {
      for (const { text } of await readCodes(drawn(picture, pixels, photo.space))) {
        const named = batchOf(text)
        if (named) return named
      }
    }
  }
  return undefined
}

/** Modules of the light border that a code must have (ISO/IEC 18004:2015, 6.3.8), and of the code with it. */
const border = 4
const modules = codeModules + 2 * border

/** From 0 to 255, by rows, the darkest tenth at 0 and the lightest at 255. */
function modulesOf(photo: Photo, { toPhoto }: Pose): Float32Array {
  const light = Float32Array.from({ length: modules * modules }, (_, k) => moduleLight(photo, toPhoto, (k % modules) - border, Math.floor(k / modules) - border))
  const sorted = light.toSorted()
  const [dark, bright] = [sorted[Math.floor(0.1 * sorted.length)]!, sorted[Math.floor(0.9 * sorted.length)]!]
  return light.map((value) => (255 * (value - dark)) / (bright - dark))
}

/** Undoes what blur has brought into each module from those beside it, or about that. */
function sharpened(light: Float32Array): Float32Array {
  const beside = [-1, 1, -modules, modules]
  return light.map((value, k) => value + beside.reduce((sum, step) => sum + (value - (light[k + step] ?? value)) / 4, 0))
}

/** 0 or 255, by whether a module is darker than halfway between the darkest and the lightest of those around it; the border is light. */
function blackAndWhite(light: Float32Array, around: number): Float32Array {
  return light.map((value, k) => {
    const [column, row] = [k % modules, Math.floor(k / modules)]
    if (Math.min(column, row) < border || Math.max(column, row) >= modules - border) return 255
    let [least, most] = [Infinity, -Infinity]
    for (let y = Math.max(0, row - around); y <= Math.min(modules - 1, row + around); y++) {
      for (let x = Math.max(0, column - around); x <= Math.min(modules - 1, column + around); x++) {
        least = Math.min(least, light[y * modules + x]!)
        most = Math.max(most, light[y * modules + x]!)
      }
    }
    return value < (least + most) / 2 ? 0 : 255
  })
}

function drawn(light: Float32Array, pixels: number, space: Photo['space']): Photo {
  const side = modules * pixels
  const data = new Uint8ClampedArray(4 * side * side).fill(255)
  for (let at = 0, k = 0; at < data.length; at += 4, k++) {
    const value = light[Math.floor(k / side / pixels) * modules + Math.floor((k % side) / pixels)]!
    data[at] = data[at + 1] = data[at + 2] = value
  }
  return { data, width: side, height: side, space }
}

/** The mean of nine places in a module's middle. */
function moduleLight({ data, width, height }: Photo, toPhoto: Pose['toPhoto'], column: number, row: number): number {
  let sum = 0
  for (const v of [0.3, 0.5, 0.7]) {
    for (const u of [0.3, 0.5, 0.7]) {
      const { x, y } = through(toPhoto, codeX + (column + u) * codeModule, codeY + (row + v) * codeModule)
      const [left, top] = [Math.min(width - 1, Math.max(0, Math.floor(x))), Math.min(height - 1, Math.max(0, Math.floor(y)))]
      sum += lightOf[data[4 * (top * width + left) + 1]!]!
    }
  }
  return sum / 9
}
