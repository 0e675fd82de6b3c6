// Colour against published values, and the vectors that Go runs too: within limits so narrow that the
// two agree with each other to twelve digits.

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import * as fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { difference } from './difference'
import { D65, labOf, type Lab } from './lab'
import { decoded, displayP3, encoded, labOfRGB, rgbOfLab, sRGB, xyzOfRGB } from './rgb'
import { show } from './shown'

const folder = join(import.meta.dirname, '../../../testdata')

type Three = readonly [number, number, number]

interface Vectors {
  readonly seed: number
  readonly colours: readonly {
    readonly space: 'sRGB' | 'Display P3'
    readonly rgb: Three
    readonly linear: Three
    readonly xyz: Three
    readonly labD65: Three
    readonly lab: Three
  }[]
  readonly curve: readonly (readonly [number, number])[]
  readonly differences: readonly {
    readonly kind: string
    readonly from: Three
    readonly to: Three
    readonly want: readonly [number, number, number, number, number]
  }[]
  readonly shown: readonly { readonly lab: Three; readonly rgb: Three; readonly mapped: boolean }[]
}

const vectors = JSON.parse(readFileSync(join(folder, 'vectors/colour.json'), 'utf8')) as Vectors
const withSeed = `random parts from seed ${vectors.seed}`

const lab = ([L, a, b]: Three): Lab => ({ L, a, b })
const light = ([r, g, b]: Three) => ({ r: decoded(r / 255), g: decoded(g / 255), b: decoded(b / 255) })

/** Fails where a number is further from what is wanted than a limit. */
function near(what: string, got: readonly number[], want: readonly number[], within: number): void {
  const off = got.map((v, i) => Math.abs(v - (want[i] ?? NaN)))
  expect(got.length, what).toBe(want.length)
  if (!off.every((d) => d <= within)) expect.fail(`${what}: ${got.join(' ')}, want ${want.join(' ')} within ${within}`)
}

/** The rows of a CSV of testdata/reference, whose first row is heads. */
function table(name: string): readonly (readonly string[])[] {
  const lines = readFileSync(join(folder, 'reference', name), 'utf8').trim().split('\n')
  return lines.slice(1).map((line) => line.split(','))
}

const threeOf = (row: readonly string[], at: number): Three => [Number(row[at]), Number(row[at + 1]), Number(row[at + 2])]

// Source: Sharma, Wu and Dalal 2005, table 1, of four decimals; the last column is theirs worked out to 40
// digits. Pairs 10 and 14 lie on the jump at opposite hues.
test('the 34 published pairs', () => {
  const rows = table('ciede2000.csv')
  expect(rows).toHaveLength(34)
  for (const row of rows) {
    const [from, to] = [lab(threeOf(row, 1)), lab(threeOf(row, 4))]
    for (const got of [difference(from, to).total, difference(to, from).total]) {
      near(`pair ${row[0]} as published`, [got], [Number(row[7])], 5e-5)
      near(`pair ${row[0]} to 40 digits`, [got], [Number(row[8])], 1e-12)
    }
  }
})

// Source: a widely published 24-patch test chart and 8 more colours, worked out to 40 digits and written
// with six decimals.
test('published colours of a chart', () => {
  const rows = table('srgb_lab.csv')
  expect(rows).toHaveLength(32)
  for (const row of rows) {
    const c = light(threeOf(row, 1))
    near(`${row[0]} under D65`, values(labOf(xyzOfRGB(c, sRGB), D65)), threeOf(row, 4), 6e-7)
    near(`${row[0]} under D50`, values(labOfRGB(c, sRGB)), threeOf(row, 7), 6e-7)
  }
})

describe(`vectors (${withSeed})`, () => {
  test('colours', () => {
    for (const c of vectors.colours) {
      const what = `${c.space} ${c.rgb.join(',')}`
      const space = c.space === 'sRGB' ? sRGB : displayP3
      near(`${what} light`, values(light(c.rgb)), c.linear, 1e-15)
      near(`${what} XYZ`, values(xyzOfRGB(light(c.rgb), space)), c.xyz, 1e-15)
      near(`${what} Lab of D65`, values(labOf(xyzOfRGB(light(c.rgb), space), D65)), c.labD65, 1e-12)
      near(`${what} Lab`, values(labOfRGB(light(c.rgb), space)), c.lab, 1e-12)
      near(`${what} back`, values(rgbOfLab(lab(c.lab), space)), c.linear, 1e-14)
    }
  })

  test('the curve', () => {
    for (const [value, bright] of vectors.curve) {
      near(`light of ${value}`, [decoded(value)], [bright], 1e-15)
      near(`value of ${bright}`, [encoded(bright)], [value], 1e-15)
    }
  })

  test('differences', () => {
    for (const c of vectors.differences) {
      const got = difference(lab(c.from), lab(c.to))
      const what = `${c.kind}: from ${c.from.join(',')} to ${c.to.join(',')}`
      near(what, [got.total, got.lightness, got.chroma, got.hue], c.want.slice(0, 4), 1e-12 * c.want[0])
      near(`${what}, rotation`, [got.rotation], [c.want[4]], 1e-12)
    }
  })

  test('what is shown', () => {
    for (const c of vectors.shown) {
      const [r, g, b] = c.rgb
      expect(show(lab(c.lab)), c.lab.join(',')).toEqual({ r, g, b, mapped: c.mapped })
    }
  })
})

const channel = fc.oneof(fc.double({ min: -120, max: 120, noNaN: true }), fc.constantFrom(0, 1, -1, 1e-9))
const anyLab = fc.record({ L: fc.double({ min: 0, max: 100, noNaN: true }), a: channel, b: channel })

it('gives parts of the other sign and the same total the other way round', () => {
  fc.assert(fc.property(anyLab, anyLab, (one, two) => {
    const there = difference(one, two)
    const back = difference(two, one)
    near('parts', [there.total, there.lightness, there.chroma, there.hue, there.rotation],
      [back.total, -back.lightness, -back.chroma, -back.hue, back.rotation], 1e-11 * Math.max(1, there.total))
  }))
})

it('differs from its opposite the same either way', () => {
  fc.assert(fc.property(anyLab, (one) => {
    const two = { L: one.L, a: -one.a, b: -one.b }
    const there = difference(one, two).total
    near('total', [difference(two, one).total], [there], 1e-12 * there)
  }))
})

it('shows as it is what a screen can show', () => {
  const byte = fc.integer({ min: 0, max: 255 })
  fc.assert(fc.property(byte, byte, byte, (r, g, b) => {
    expect(show(labOfRGB(light([r, g, b]), sRGB))).toEqual({ r, g, b, mapped: false })
  }))
})

/** The three numbers of a colour, in their order. */
function values(c: object): readonly number[] {
  return Object.values(c) as number[]
}
