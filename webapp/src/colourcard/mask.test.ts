import { describe, expect, it } from 'vitest'
import { above, blurred, heaviest, traced, withoutAppendages, withoutHoles, type Mask } from './mask'

/** A mask as drawn: # is in it. */
function drawn(...rows: string[]): Mask {
  return { width: rows[0]!.length, height: rows.length, on: Uint8Array.from(rows.join(''), c => (c === '#' ? 1 : 0)) }
}

function rowsOf({ width, height, on }: Mask): string[] {
  return Array.from({ length: height }, (_, y) => Array.from(on.subarray(y * width, (y + 1) * width), v => (v === 1 ? '#' : '.')).join(''))
}

describe('a mask', () => {
  it('keeps the part that weighs most, and corners do not connect', () => {
    const mask = drawn('##..#', '##..#', '..#.#')
    expect(rowsOf(heaviest(mask))).toEqual(['##...', '##...', '.....'])
    const weights = new Float32Array(15).fill(1)
    weights[4] = 9
    expect(rowsOf(heaviest(mask, weights))).toEqual(['....#', '....#', '....#'])
  })

  it('is empty of parts where it is empty', () => {
    expect(rowsOf(heaviest(drawn('...', '...')))).toEqual(['...', '...'])
  })

  it('is filled where it encloses something, and not where that is open to the border', () => {
    expect(rowsOf(withoutHoles(drawn('#####', '#..##', '#####', '##.##')))).toEqual(['#####', '#####', '#####', '##.##'])
  })

  it('is traced clockwise along its pixels, around its notches', () => {
    expect([...traced(drawn('....', '.##.', '.#..'))]).toEqual([1, 1, 2, 1, 3, 1, 3, 2, 2, 2, 2, 3, 1, 3, 1, 2])
  })

  it('is traced around its own part where another meets it at a corner', () => {
    expect([...traced(drawn('#..', '.##', '.#.'))]).toEqual([0, 0, 1, 0, 1, 1, 0, 1])
  })

  it('loses what hangs on by a neck, and keeps its own lobes', () => {
    const size = 60
    const disc = (x: number, y: number, cx: number, cy: number, r: number) => Math.hypot(x - cx, y - cy) < r
    const on = new Uint8Array(size * size)
    const head = new Uint8Array(size * size)
    for (let p = 0; p < on.length; p++) {
      const [x, y] = [(p % size) + 0.5, Math.floor(p / size) + 0.5]
      head[p] = disc(x, y, 22, 30, 18) || disc(x, y, 8, 22, 7) ? 1 : 0
      on[p] = head[p] === 1 || (x > 30 && Math.abs(y - 30) < 2.5) ? 1 : 0
    }
    const kept = withoutAppendages({ width: size, height: size, on }, 0.2, 0.03)
    expect(kept.on.reduce((sum, v, p) => sum + Math.abs(v - head[p]!), 0)).toBeLessThan(12)
    expect(on.reduce((sum, v, p) => sum + Math.abs(v - head[p]!), 0)).toBeGreaterThan(60)
  })
})

describe('blurred values', () => {
  it('keep their sum away from the border and their half at a straight edge', () => {
    const [width, height] = [40, 30]
    const values = new Float32Array(width * height)
    values[15 * width + 20] = 8
    expect(blurred(values, width, height, 3).reduce((sum, v) => sum + v, 0)).toBeCloseTo(8, 4)
    const edge = Float32Array.from({ length: width * height }, (_, p) => (p % width < 20 ? 1 : 0))
    expect(above(blurred(edge, width, height, 4), width, height, 0.5).on).toEqual(Uint8Array.from(edge))
  })
})
