// Whether rendered photos show what their truth says: what is measured by them is only as good.

import { beforeAll, describe, expect, it, vi } from 'vitest'
import { difference } from '../../colour/difference'
import { D50, labOf } from '../../colour/lab'
import { decoded, displayP3, encoded, labOfRGB, rgbOfLab, sRGB, toD50, xyzOfRGB } from '../../colour/rgb'
import { cardColours, cardHeight, cardWidth, codeModule, codeX, codeY, paper, patches, patchSide } from '../geometry'
import type { Photo, Point } from '../measurement'
import { codeOf, readCodes, realCodes } from './codes'
import { headPicture, hullOf, meanCaliper, type Head } from './head'
import { jpegOf, pixelsOf } from './jpeg'
import { inked, planOf, planScale } from './printed'
import { render } from './render'
import type { Scene } from './scene'
import { conditions, drawScene, type Codes } from './scenes'
import { Sight, type View } from './view'

let codes: Codes

// A busy machine takes its time for many pixels.
vi.setConfig({ testTimeout: 60_000 })

beforeAll(async () => {
  codes = { batch: 'K7M2QX', card: await codeOf('CARD/1/K7M2QX'), tag: await codeOf('HKV 4J') }
})

const noon = { kelvin: 6504, kind: 'daylight', tint: 0 } as const
const straight: View = { focal: 0.75, slant: 0, lean: 0, turn: 0, share: 0.1, at: { x: 0.35, y: 0.5 } }
const disc: Head = { lab: { L: 60, a: 30, b: 10 }, form: 'disc', across: 6, at: { x: 130, y: 33 }, behind: 0, texture: 0, seed: 1 }

/** Perfect in every way: what was asked of the printer stands in the picture as it was asked. */
function perfect(): Scene {
  return {
    width: 800, height: 600, seed: 1, view: straight, head: disc, light: noon, cones: 'bradford', glare: [],
    print: { batch: 'K7M2QX', code: codes.card, paper: { L: 100, a: 0, b: 0 }, off: 0, black: 0, strength: 1, se: 0, scale: 1, seed: 1 },
    background: { ground: 'soil', heads: [], clear: { x: 0, y: 0, radius: 0 }, seed: 1 },
    falling: { gradient: 0, from: 0, vignette: 0 },
    camera: { space: 'srgb', exposure: 0, balance: noon, balanced: 'cones', shoulder: 0, curve: 0, vivid: 1, blur: 0, motion: 0, motionAt: 0, shot: 0, read: 0 },
  }
}

function pixel({ data, width }: Photo, { x, y }: Point): readonly [number, number, number] {
  const i = 4 * (Math.floor(y) * width + Math.floor(x))
  return [data[i]!, data[i + 1]!, data[i + 2]!]
}

const labOfPixel = ([r, g, b]: readonly [number, number, number], space = sRGB) => labOfRGB({ r: decoded(r / 255), g: decoded(g / 255), b: decoded(b / 255) }, space)

function patchMiddles(scene: Scene): readonly { readonly at: Point; readonly colour: number }[] {
  const sight = new Sight(scene.view, scene.width, scene.height)
  return patches.map(({ x, y, colour }) => ({ at: sight.see(x + patchSide / 2, y + patchSide / 2), colour }))
}

describe('colours', () => {
  it('are those that were printed, to the last step, under D65 and at 0 EV', () => {
    const scene = perfect()
    const { photo } = render(scene)
    for (const { at, colour } of patchMiddles(scene)) expect(pixel(photo, at)).toEqual(cardColours[colour])
  })

  it.each(['srgb', 'display-p3'] as const)('of the head are its own in %s', (space) => {
    const scene = { ...perfect(), camera: { ...perfect().camera, space } }
    const { photo, truth } = render(scene)
    const { r, g, b } = rgbOfLab(disc.lab, space === 'srgb' ? sRGB : displayP3)
    expect(pixel(photo, truth.middle)).toEqual([r, g, b].map((v) => Math.round(255 * encoded(v))))
    expect(truth.lab).toEqual(disc.lab)
  })

  it('stay so under any light that is balanced as it is adapted', () => {
    const lamp = { kelvin: 2856, kind: 'glowing', tint: 0 } as const
    const scene = { ...perfect(), light: lamp, camera: { ...perfect().camera, balance: lamp } }
    const { photo } = render(scene)
    for (const { at, colour } of patchMiddles(scene)) expect(pixel(photo, at)).toEqual(cardColours[colour])
  })

  // By hand: white under A in Bradford's cones is white A; sRGB of its XYZ (1.0985, 1, 0.3558) is 1.845, 0.826, 0.236
  // of linear light, whose red is brought to 1.
  it('of white under a lamp that is not balanced are orange', () => {
    const scene: Scene = { ...perfect(), light: { kelvin: 2856, kind: 'glowing', tint: 0 } }
    const { photo } = render(scene)
    const white = pixel(photo, new Sight(scene.view, scene.width, scene.height).see(60, 1))
    const want = [1, 0.826 / 1.845, 0.236 / 1.845].map((v) => 255 * encoded(v))
    white.forEach((v, i) => expect(Math.abs(v - want[i]!)).toBeLessThan(1.5))
  })

  it.each([[-1, 0.5], [-2, 0.25], [1, 2]])('are %s EV: light times %s', (exposure, by) => {
    const scene = { ...perfect(), camera: { ...perfect().camera, exposure } }
    const { photo } = render(scene)
    for (const { at, colour } of patchMiddles(scene)) {
      const want = cardColours[colour]!.map((v) => Math.round(255 * Math.min(1, encoded(by * decoded(v / 255)))))
      pixel(photo, at).forEach((v, i) => expect(Math.abs(v - want[i]!)).toBeLessThanOrEqual(1))
    }
  })

  it('of a print are those that are told, and known to their uncertainty', () => {
    const print = { ...perfect().print, paper: { L: 94, a: 1, b: 5 }, off: 3, black: 20, strength: 0.85, se: 0.5 }
    const scene = { ...perfect(), print }
    const { photo, printed, card } = render(scene)
    for (const { at, colour } of patchMiddles(scene)) {
      // Half a step of 255 in each channel is at most about this far.
      expect(difference(labOfPixel(pixel(photo, at)), printed.patches[colour]!).total).toBeLessThan(0.6)
    }
    const off = card.patches.flatMap(({ L, a, b }, i) => [L - printed.patches[i]!.L, a - printed.patches[i]!.a, b - printed.patches[i]!.b])
    const sd = Math.sqrt(off.reduce((sum, v) => sum + v * v, 0) / off.length)
    expect(sd).toBeGreaterThan(0.3)
    expect(sd).toBeLessThan(0.75)
  })
})

describe('perspective', () => {
  // By hand: a focal length of 0.75 x 800 = 600 pixels; a card of 90 x 66 mm that covers a tenth of 480,000 pixels
  // has sqrt(48,000 / 5,940) = 2.8427 pixels a millimetre, and so is 211.07 mm away.
  it('shows a card that faces the camera in its proportions', () => {
    const sight = new Sight({ ...straight, at: { x: 0.5, y: 0.5 } }, 800, 600)
    expect(sight.distance).toBeCloseTo(211.07, 1)
    const want = [[272.08, 206.19], [527.92, 206.19], [527.92, 393.81], [272.08, 393.81]]
    sight.corners().forEach(({ x, y }, i) => {
      expect(x).toBeCloseTo(want[i]![0]!, 1)
      expect(y).toBeCloseTo(want[i]![1]!, 1)
    })
  })

  // By hand, for a card whose right edge is turned away by 40 degrees: a point so many millimetres right of and below
  // its middle is seen from d away at 600 x (x cos 40, y) / (d + x sin 40). What lies h behind the card is nearer to its
  // left by h sin 40 and further away by h cos 40.
  it('shows a leaning card as a pinhole does', () => {
    const sight = new Sight({ ...straight, at: { x: 0.5, y: 0.5 }, slant: 40, lean: 270 }, 800, 600)
    const [c, s] = [Math.cos((40 * Math.PI) / 180), Math.sin((40 * Math.PI) / 180)]
    for (const [x, y, h] of [[-45, -33, 0], [45, -33, 0], [45, 33, 0], [0, 0, 0], [20, -10, 30], [-60, 5, -20]] as const) {
      const seen = sight.see(45 + x, 33 + y, h)
      const away = sight.distance + x * s + h * c
      expect(seen.x).toBeCloseTo(400 + (600 * (x * c - h * s)) / away, 6)
      expect(seen.y).toBeCloseTo(300 + (600 * y) / away, 6)
    }
  })

  it('shows what lies behind the card smaller, and comes back from pixels to where it lies', () => {
    const sight = new Sight({ focal: 0.8, slant: 30, lean: 70, turn: 25, share: 0.15, at: { x: 0.3, y: 0.6 } }, 1000, 800)
    const breadth = (behind: number) => Math.hypot(sight.see(100, 30, behind).x - sight.see(120, 30, behind).x, sight.see(100, 30, behind).y - sight.see(120, 30, behind).y)
    expect(breadth(40)).toBeLessThan(breadth(0))
    const { x, y } = sight.see(100, 30, 40)
    const m = sight.onto(40)
    const w = m[6] * x + m[7] * y + m[8]
    expect((m[0] * x + m[1] * y + m[2]) / w).toBeCloseTo(100, 9)
    expect((m[3] * x + m[4] * y + m[5]) / w).toBeCloseTo(30, 9)
  })

  it('has the slant against the line of sight and the share that were asked, wherever the card is in the frame', () => {
    for (const at of [{ x: 0.5, y: 0.5 }, { x: 0.2, y: 0.75 }]) {
      const view: View = { focal: 0.7, slant: 35, lean: 120, turn: 10, share: 0.12, at }
      const sight = new Sight(view, 1000, 750)
      const middle = sight.see(45, 33)
      expect([middle.x / 1000, middle.y / 750].map((v) => v.toFixed(9))).toEqual([at.x.toFixed(9), at.y.toFixed(9)])
      // Small steps on the card are shortened by the cosine of the slant against a sphere about the camera.
      const ray = (x: number, y: number) => {
        const p = sight.see(x, y)
        const [u, v] = [(p.x - 500) / 700, (p.y - 375) / 700]
        const length = Math.hypot(u, v, 1)
        return [u / length, v / length, 1 / length] as const
      }
      const [o, p, q] = [ray(45, 33), ray(45.01, 33), ray(45, 33.01)]
      const [a, b] = [p.map((v, i) => v - o[i]!), q.map((v, i) => v - o[i]!)]
      const cross = Math.hypot(a[1]! * b[2]! - a[2]! * b[1]!, a[2]! * b[0]! - a[0]! * b[2]!, a[0]! * b[1]! - a[1]! * b[0]!)
      expect((cross * sight.distance ** 2) / 1e-4).toBeCloseTo(Math.cos((35 * Math.PI) / 180), 3)
    }
  })

  it('puts every edge of the card within half a pixel of where its truth is', () => {
    const view: View = { focal: 0.8, slant: 40, lean: 200, turn: 15, share: 0.15, at: { x: 0.4, y: 0.5 } }
    const scene = { ...perfect(), view }
    const { photo, truth } = render(scene)
    const sight = new Sight(view, scene.width, scene.height)
    // On paper just inside, and on soil just outside.
    for (const [x, y, inwards] of [[0, 60, [1, 0]], [cardWidth, 60, [-1, 0]], [45, 0, [0, 1]], [45, cardHeight, [0, -1]]] as const) {
      const [edge, inside] = [sight.see(x, y), sight.see(x + inwards[0], y + inwards[1])]
      const [dx, dy] = [inside.x - edge.x, inside.y - edge.y]
      const by = 1.2 / Math.hypot(dx, dy)
      expect(pixel(photo, { x: edge.x + by * dx, y: edge.y + by * dy })[1], `inside at ${x}, ${y}`).toBe(255)
      expect(pixel(photo, { x: edge.x - by * dx, y: edge.y - by * dy })[1], `outside at ${x}, ${y}`).toBeLessThan(200)
    }
    expect(truth.corners).toEqual(sight.corners())
  })
})

describe('spread', () => {
  it.each<[string, readonly Point[], number]>([
    ['a square of 1 has 4/pi', [{ x: 0, y: 0 }, { x: 1, y: 0 }, { x: 1, y: 1 }, { x: 0, y: 1 }], 4 / Math.PI],
    ['a line of 1 has 2/pi', [{ x: 0, y: 0 }, { x: 1, y: 0 }, { x: 0.5, y: 0 }], 2 / Math.PI],
    ['a circle of 2 has 2', Array.from({ length: 3600 }, (_, i) => ({ x: Math.cos((i * Math.PI) / 1800), y: Math.sin((i * Math.PI) / 1800) })), 2],
  ])('%s', (_, points, want) => {
    expect(meanCaliper(points)).toBeCloseTo(want, 5)
  })

  it('is the mean of what callipers say from all sides', () => {
    const points = headPicture({ ...disc, form: 'lobed', seed: 5 }, 4).outline
    const breadths = Array.from({ length: 360 }, (_, i) => {
      const along = points.map(({ x, y }) => x * Math.cos((i * Math.PI) / 360) + y * Math.sin((i * Math.PI) / 360))
      return Math.max(...along) - Math.min(...along)
    })
    expect(meanCaliper(points)).toBeCloseTo(breadths.reduce((a, b) => a + b) / 360, 3)
    expect(meanCaliper(points)).toBeCloseTo(60, 6)
  })

  it.each(['disc', 'lobed', 'corymb'] as const)('of the pixels of a %s is what was asked', (form) => {
    const { there, side, scale } = headPicture({ ...disc, form, texture: 0.5, seed: 2 }, 8)
    const points: Point[] = []
    for (let y = 0; y < side; y++) {
      const row = there.subarray(y * side, (y + 1) * side)
      const [first, last] = [row.indexOf(1), row.lastIndexOf(1)]
      if (first >= 0) points.push({ x: first / scale, y: y / scale }, { x: last / scale, y: y / scale })
    }
    // A pixel is counted by its corner, so the hull is about one pixel too small.
    expect(Math.abs(meanCaliper(points) + 1 / scale - 60)).toBeLessThan(0.25)
    expect(hullOf(points).length).toBeGreaterThan(8)
  })
})

it.each(['disc', 'lobed', 'corymb'] as const)('the mean light of a rough %s is its colour', (form) => {
  const scene: Scene = { ...perfect(), head: { ...disc, form, texture: 1, seed: 3 }, camera: { ...perfect().camera, exposure: -0.7 } }
  const { photo, truth } = render(scene)
  let [n, X, Y, Z] = [0, 0, 0, 0]
  for (const p of within(truth.outline, truth.middle)) {
    const [r, g, b] = pixel(photo, p)
    const c = toD50(xyzOfRGB({ r: decoded(r / 255), g: decoded(g / 255), b: decoded(b / 255) }, sRGB))
    if (c.X < 0.06) continue // the stalks in a corymb's gaps, which are none of its colour
    n++
    X += c.X
    Y += c.Y
    Z += c.Z
  }
  const by = 2 ** 0.7 / n
  expect(difference(labOf({ X: X * by, Y: Y * by, Z: Z * by }, D50), truth.lab).total).toBeLessThan(1)
})

/** The middles of the pixels of an outline that has no dents towards its middle, but for those at its edge. */
function within(outline: readonly Point[], middle: Point): readonly Point[] {
  const points: Point[] = []
  const far = (dx: number, dy: number) => {
    const angle = Math.atan2(dy, dx)
    const off = (p: Point) => Math.abs(((Math.atan2(p.y - middle.y, p.x - middle.x) - angle + 3 * Math.PI) % (2 * Math.PI)) - Math.PI)
    const nearest = outline.reduce((best, p) => (off(p) < off(best) ? p : best))
    return Math.hypot(nearest.x - middle.x, nearest.y - middle.y)
  }
  for (let dy = -150; dy <= 150; dy += 2) {
    for (let dx = -150; dx <= 150; dx += 2) if (Math.hypot(dx, dy) < far(dx, dy) - 2) points.push({ x: middle.x + dx, y: middle.y + dy })
  }
  return points
}

describe('the camera', () => {
  it('adds noise of the variance that is asked', () => {
    const scene: Scene = { ...perfect(), camera: { ...perfect().camera, exposure: -1, shot: 0.02, read: 0.004 } }
    const { photo } = render(scene)
    const sight = new Sight(scene.view, scene.width, scene.height)
    const patch = patches.find(({ colour }) => colour === 3)!
    const values: number[] = []
    for (let u = 1; u < patchSide - 1; u += 0.4) for (let v = 1; v < patchSide - 1; v += 0.4) values.push(decoded(pixel(photo, sight.see(patch.x + u, patch.y + v))[1] / 255))
    const mean = values.reduce((a, b) => a + b) / values.length
    const sd = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length)
    expect(mean).toBeCloseTo(decoded(172 / 255) / 2, 2)
    expect(sd / Math.sqrt(0.004 ** 2 + 0.02 ** 2 * mean)).toBeGreaterThan(0.85)
    expect(sd / Math.sqrt(0.004 ** 2 + 0.02 ** 2 * mean)).toBeLessThan(1.15)
  })

  it.each([0.6, 1.2, 2.5, 6])('blurs an edge by a standard deviation of %s pixels', (blur) => {
    const scene: Scene = { ...perfect(), view: { ...straight, share: 0.6, at: { x: 0.5, y: 0.5 } }, camera: { ...perfect().camera, blur } }
    const { photo } = render(scene)
    // The left edge of the violet patch, beside which there is much bare paper.
    const edge = new Sight(scene.view, scene.width, scene.height).see(61, 2 + patchSide / 2)
    const [from, violet] = [Math.round(edge.x - 4 * blur), decoded(72 / 255)]
    let [sum, square] = [0, 0]
    for (let x = from; x < edge.x + 4 * blur; x++) {
      const step = decoded(pixel(photo, { x, y: edge.y })[1] / 255) - decoded(pixel(photo, { x: x + 1, y: edge.y })[1] / 255)
      sum += step
      square += step * (x + 1 - edge.x) ** 2
    }
    expect(sum).toBeCloseTo(1 - violet, 1)
    // The edge itself is up to a pixel wide.
    expect(Math.sqrt(square / sum)).toBeGreaterThan(blur * 0.9)
    expect(Math.sqrt(square / sum)).toBeLessThan(Math.hypot(blur, 0.5) * 1.08)
  })

  it('has its S through black, half and white', () => {
    const scene: Scene = { ...perfect(), camera: { ...perfect().camera, curve: 0.6 } }
    const { photo } = render(scene)
    for (const { at, colour } of patchMiddles(scene)) {
      const want = cardColours[colour]!.map((v) => Math.round(255 * (0.4 * (v / 255) + 0.6 * (v / 255) ** 2 * (3 - (2 * v) / 255))))
      pixel(photo, at).forEach((v, i) => expect(Math.abs(v - want[i]!)).toBeLessThanOrEqual(1))
    }
  })

  it('sees less light on the dark side by the gradient that is asked', () => {
    const scene: Scene = { ...perfect(), falling: { gradient: 0.5, from: 0, vignette: 0 }, camera: { ...perfect().camera, exposure: -1 }, background: { ...perfect().background, ground: 'soil' } }
    const { photo } = render(scene)
    const sight = new Sight(scene.view, scene.width, scene.height)
    const [left, right] = [sight.see(1, 33), sight.see(89, 33)]
    const at = (x: number) => 0.5 * (1 + 0.2 * ((x - 400) / 400))
    for (const p of [left, right]) expect(decoded(pixel(photo, p)[1] / 255)).toBeCloseTo(at(p.x), 2)
  })
})

describe('JPEG', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('of orientation %s comes upright from another decoder', async (orientation) => {
    const { photo } = render(perfect())
    const jpeg = await jpegOf(photo, { quality: 95, orientation, halved: false })
    const { default: sharp } = await import('sharp')
    const { data, info } = await sharp(jpeg).autoOrient().ensureAlpha().raw().toBuffer({ resolveWithObject: true })
    expect([info.width, info.height]).toEqual([photo.width, photo.height])
    expect(meanOff(data, photo.data)).toBeLessThan(2)
  })

  it('says Display P3 in a profile, and its pixels stay as they are', async () => {
    const { photo } = render({ ...perfect(), camera: { ...perfect().camera, space: 'display-p3' } })
    const jpeg = await jpegOf(photo, { quality: 95, halved: false, progressive: true })
    expect(meanOff((await pixelsOf(jpeg, 'display-p3')).data, photo.data)).toBeLessThan(2)
  })
})

function meanOff(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < b.length; i++) sum += Math.abs(a[i]! - b[i]!)
  return sum / b.length
}

it.each(['as it is printed', 'as it is drawn here'])('a card %s has its code where the geometry has it, and reads as its batch', async (how) => {
  const { card, ink } = await realCodes()
  const print = { ...perfect().print, code: card, ink: how === 'as it is printed' ? ink : undefined }
  const plan = planOf(print)
  const at = (i: number, j: number) => plan.what[Math.floor((codeY + j * codeModule) * planScale) * plan.width + Math.floor((codeX + i * codeModule) * planScale)]
  // The three finders' dark rings, light rings and middles (ISO/IEC 18004), just inside of their edges.
  for (const [i, j] of [[0, 0], [14, 0], [0, 14]] as const) {
    expect([0.1, 0.9, 1.1, 1.9, 2.1, 4.9, 5.1, 6.1, 6.9].map((x) => at(i + x, j + 3.5))).toEqual([inked, inked, paper, paper, inked, inked, paper, inked, inked])
    expect([0.1, 0.9, 1.1, 1.9, 2.1, 4.9, 5.1, 6.1, 6.9].map((y) => at(i + 3.5, j + y))).toEqual([inked, inked, paper, paper, inked, inked, paper, inked, inked])
  }
  const read = await readCodes(render({ ...perfect(), print }).photo)
  expect(read.map(({ text }) => text)).toEqual(['CARD/1/6GRATJ'])
})

describe('scenes', () => {
  const small = { width: 640, height: 480 }

  it('are the same for the same seed, and others for another', () => {
    const [one, again, other] = [1, 1, 2].map((seed) => new Uint8Array(render(drawScene(seed, 'everything', codes, small).scene).photo.data.buffer))
    expect(Buffer.compare(one!, again!)).toBe(0)
    expect(Buffer.compare(one!, other!)).not.toBe(0)
  })

  it.each(conditions.filter((c) => c.startsWith('too ') || c.endsWith('cut off') || c === 'in a shadow'))('that are %s nobody would measure', (condition) => {
    for (let seed = 1; seed <= 3; seed++) {
      const { truth } = render(drawScene(seed, condition, codes, { width: 1000, height: 750 }).scene)
      expect(truth.reasons, `seed ${seed}`).not.toEqual([])
    }
  })

  it('within reach have one light within 8 % over card and head', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const { scene } = drawScene(seed, 'reach', codes, small)
      expect(render(scene).truth.unevenness, `seed ${seed}`).toBeLessThan(1.085)
      expect(scene.head.behind).toBe(0)
    }
  })
})
