import { describe, expect, it, test } from 'vitest'
import type { BedID, Millimetres, PlantID } from '../crop/nouns'
import { plantWith } from '../crop/testing/nouns'
import type { Head, Picture } from './bed_picture'
import { type Ground, spotOf } from './bed_picture_ground'
import { nearest, sceneOf } from './bed_picture_scene'
import { sheetFor } from './bed_picture_sheet'
import { shapeOf } from './bed_picture_sprites'
import { fitted, zoomedAt } from './bed_picture_view'

const ground: Ground = { length: 4_000 as Millimetres, width: 1_200 as Millimetres, lines: 3, numbers: 10, measured: true, pitch: 400 }
const room = { width: 328, height: 430 }
const sheet = sheetFor(ground, room, 13)

function head(code: string, line: number, number: number, told: Partial<Head> = {}): Head {
  const on = { bed: 'b' as BedID, line, number }
  return {
    plant: plantWith({ id: code as PlantID, code }), place: on, on, at: spotOf(ground, line, number), radius: 100, colour: '', swatch: '',
    told: undefined, stems: { n: 9, told: 'counted' }, flags: [], seedling: false, gone: false, ...told,
  }
}

const sceneWith = (...heads: Head[]) => sceneOf({ heads, gaps: [], unplaced: [] } as unknown as Picture, sheet)

describe('the head that a finger means', () => {
  const scene = sceneWith(head('a', 1, 1), head('b', 1, 2))
  const whole = fitted(sheet, room)
  const spot = (i: number) => {
    const dot = scene.dots[i]!
    return { x: dot.u * whole.zoom + whole.x, y: dot.v * whole.zoom + whole.y }
  }

  it('is the nearest', () => {
    const [a, b] = [spot(0), spot(1)]
    const between = (share: number) => ({ x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share })
    expect(nearest(scene, whole, between(0.4))?.head.plant.code).toBe('a')
    expect(nearest(scene, whole, between(0.6))?.head.plant.code).toBe('b')
  })

  it('is found within 22 px, however small it is, and not beyond', () => {
    const tiny = sceneWith(head('a', 1, 1, { radius: 1 }))
    const { x, y } = spot(0)
    expect(nearest(tiny, whole, { x: x - 21, y })?.head.plant.code).toBe('a')
    expect(nearest(tiny, whole, { x: x - 23, y })).toBeUndefined()
  })

  it('is found anywhere on a head that is drawn larger than a finger', () => {
    const near = zoomedAt(whole, 3, spot(0), sheet, room)
    const dot = scene.dots[0]!
    const r = dot.r * near.zoom
    expect(r).toBeGreaterThan(22)
    expect(nearest(scene, near, { x: dot.u * near.zoom + near.x - r + 1, y: dot.v * near.zoom + near.y })?.head.plant.code).toBe('a')
  })
})

it('draws what is gone lowest, a seedling uppermost, and small heads over large ones', () => {
  const scene = sceneWith(
    head('seedling', 1, 1, { seedling: true }), head('small', 1, 1, { radius: 50 }), head('large', 1, 1, { radius: 200 }), head('gone', 1, 1, { gone: true, radius: 10 }),
  )
  expect(scene.dots.map((dot) => dot.head.plant.code)).toEqual(['gone', 'large', 'small', 'seedling'])
})

test.each([
  ['counted with stems', { told: 'counted', n: 4 }, false, 'flower'], ['recorded, not counted', { told: 'recorded', n: 4 }, false, 'flower'],
  ['counted and none', { told: 'counted', n: 0 }, false, 'bare'], ['recorded by nobody', { told: 'nobody', n: 0 }, false, 'plain'], ['self-sown', { told: 'counted', n: 4 }, true, 'seedling'],
] as const)('a plant that is %s has a shape of its own', (_, stems, seedling, shape) => {
  expect(shapeOf({ stems, seedling })).toBe(shape)
})
