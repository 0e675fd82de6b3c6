// Where a camera stands before a card: a pinhole, as phones' pictures are once their lens is put right.

import { cardHeight, cardWidth, codeModule, codeModules, codeX, codeY } from '../geometry'
import type { Point } from '../measurement'
import { applied, inverse, product, type Matrix } from './light'

export interface View {
  /** Focal length in widths of the frame: 0.72 is a phone's main camera, 1.4 its doubled one. */
  readonly focal: number
  /** Between the card's normal and the line of sight to its middle, degrees. */
  readonly slant: number
  /** Which way it leans: 0 about a line to the right, 90 about one downwards in the frame. */
  readonly lean: number
  /** How far the card is turned in the frame, clockwise, degrees. */
  readonly turn: number
  /** The card's area as a share of the frame's. */
  readonly share: number
  /** Where the card's middle is seen, in widths and heights of the frame. */
  readonly at: Point
}

/** A view of given pixels. */
export class Sight {
  /** Millimetres from the camera to the card's middle. */
  readonly distance: number
  private readonly turned: Matrix
  private readonly focal: number
  private readonly sight: readonly [number, number, number]

  constructor(view: View, private readonly width: number, private readonly height: number) {
    this.focal = view.focal * width
    const [x, y] = [(view.at.x - 0.5) * width / this.focal, (view.at.y - 0.5) * height / this.focal]
    const length = Math.hypot(x, y, 1)
    this.sight = [x / length, y / length, 1 / length]
    this.turned = product(towards(this.sight), product(leaning(rad(view.lean), rad(view.slant)), turning(rad(view.turn))))
    this.distance = this.distanceFor(view.share * width * height)
  }

  /** The pixel at which a point is seen that lies so many millimetres behind the card's plane. */
  see(x: number, y: number, behind = 0): Point {
    const [u, v, w] = applied(this.from(behind), x, y, 1)
    return { x: u / w, y: v / w }
  }

  /** From a pixel to the millimetres of a plane behind the card's, as homogeneous coordinates. */
  onto(behind: number): Matrix {
    return inverse(this.from(behind))
  }

  /** From a point of the card to the camera, along the line of sight. */
  depth(x: number, y: number, behind: number): number {
    return this.placed(x, y, behind, this.distance)[2]
  }

  corners(): readonly [Point, Point, Point, Point] {
    return [this.see(0, 0), this.see(cardWidth, 0), this.see(cardWidth, cardHeight), this.see(0, cardHeight)]
  }

  /** Pixels of a side of the code's modules, across where they are narrowest. */
  get moduleSide(): number {
    const size = codeModules * codeModule
    const [a, b, d] = [this.see(codeX, codeY), this.see(codeX + size, codeY), this.see(codeX, codeY + size)]
    const [along, down] = [Math.hypot(b.x - a.x, b.y - a.y), Math.hypot(d.x - a.x, d.y - a.y)]
    const high = Math.abs((b.x - a.x) * (d.y - a.y) - (b.y - a.y) * (d.x - a.x))
    return Math.min(high / along, high / down) / codeModules
  }

  /** From millimetres of a plane to pixels, homogeneous. */
  private from(behind: number): Matrix {
    const r = this.turned
    const origin = this.placed(0, 0, behind, this.distance)
    const plane: Matrix = [r[0], r[1], origin[0], r[3], r[4], origin[1], r[6], r[7], origin[2]]
    return product([this.focal, 0, this.width / 2, 0, this.focal, this.height / 2, 0, 0, 1], plane)
  }

  private placed(x: number, y: number, behind: number, distance: number): readonly [number, number, number] {
    const [u, v, w] = applied(this.turned, x - cardWidth / 2, y - cardHeight / 2, behind)
    const [sx, sy, sz] = this.sight
    return [u + sx * distance, v + sy * distance, w + sz * distance]
  }

  /** Halves its way to where the card has so many pixels; further away it has fewer. */
  private distanceFor(pixels: number): number {
    let [near, far] = [70, 50_000]
    for (let i = 0; i < 60; i++) {
      const middle = Math.sqrt(near * far)
      if (this.areaAt(middle) > pixels) near = middle
      else far = middle
    }
    return near
  }

  private areaAt(distance: number): number {
    return area([[0, 0], [cardWidth, 0], [cardWidth, cardHeight], [0, cardHeight]].map(([x, y]) => {
      const [u, v, w] = this.placed(x!, y!, 0, distance)
      return { x: (this.focal * u) / w, y: (this.focal * v) / w }
    }))
  }
}

/** Of a polygon, whichever way round. */
export function area(outline: readonly Point[]): number {
  let sum = 0
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length]!
    sum += p.x * q.y - q.x * p.y
  })
  return Math.abs(sum) / 2
}

const rad = (degrees: number) => (degrees * Math.PI) / 180

/** Turns straight ahead into a direction, the shortest way (Rodrigues' formula). */
function towards([x, y, z]: readonly [number, number, number]): Matrix {
  const k = 1 / (1 + z)
  return [1 - k * x * x, -k * x * y, x, -k * x * y, 1 - k * y * y, y, -x, -y, 1 - k * (x * x + y * y)]
}

/** About an axis in the frame. */
function leaning(axis: number, by: number): Matrix {
  const [x, y, c, s] = [Math.cos(axis), Math.sin(axis), Math.cos(by), Math.sin(by)]
  return [c + x * x * (1 - c), x * y * (1 - c), y * s, x * y * (1 - c), c + y * y * (1 - c), -x * s, -y * s, x * s, c]
}

function turning(by: number): Matrix {
  const [c, s] = [Math.cos(by), Math.sin(by)]
  return [c, -s, 0, s, c, 0, 0, 0, 1]
}
