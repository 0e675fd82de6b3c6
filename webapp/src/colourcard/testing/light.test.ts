import { expect, it } from 'vitest'
import { D50, D65 } from '../../colour/lab'
import { adaptation, applied, inverse, product, under, whiteOf, type Cones, type Light } from './light'

// Source: CIE 15:2004, tables T.1 and T.3 (illuminants A, D50, D55, D65, D75), from memory.
it.each<[string, Light, readonly [number, number]]>([
  ['A', { kelvin: 2856, kind: 'glowing', tint: 0 }, [0.4476, 0.4074]],
  ['D50', { kelvin: 5003, kind: 'daylight', tint: 0 }, [0.3457, 0.3585]],
  ['D55', { kelvin: 5503, kind: 'daylight', tint: 0 }, [0.3324, 0.3474]],
  ['D65', { kelvin: 6504, kind: 'daylight', tint: 0 }, [0.3127, 0.329]],
  ['D75', { kelvin: 7504, kind: 'daylight', tint: 0 }, [0.299, 0.3149]],
])('has the chromaticity of illuminant %s', (_, light, [x, y]) => {
  const { X, Y, Z } = whiteOf(light)
  expect(Math.abs(X / (X + Y + Z) - x)).toBeLessThan(6e-4)
  expect(Math.abs(Y / (X + Y + Z) - y)).toBeLessThan(6e-4)
})

it('changes over to daylight and between its splines without a jump', () => {
  for (const [kelvin, kind] of [[2222, 'glowing'], [4000, 'glowing'], [7000, 'daylight']] as const) {
    const [below, above] = [whiteOf({ kelvin: kelvin - 0.01, kind, tint: 0 }), whiteOf({ kelvin: kelvin + 0.01, kind, tint: 0 })]
    expect(Math.abs(below.X - above.X) + Math.abs(below.Z - above.Z)).toBeLessThan(2e-3)
  }
})

it.each<Cones>(['bradford', 'cat02', 'xyz'])('makes white of white by %s', (cones) => {
  const light: Light = { kelvin: 2700, kind: 'glowing', tint: 0.003 }
  const [X, Y, Z] = applied(under(light, cones), D50.X, D50.Y, D50.Z)
  const white = whiteOf(light)
  expect([X, Y, Z].map((v, i) => Math.abs(v - [white.X, white.Y, white.Z][i]!)).every((d) => d < 1e-12)).toBe(true)
})

// Source: worked out to 40 digits from the published cone matrix, by another program.
it('adapts D65 to D50 by the published Bradford matrix', () => {
  const want = [1.0479297925, 0.0229468706, -0.0501922663, 0.0296278088, 0.9904344268, -0.0170737991, -0.0092430406, 0.0150551915, 0.7518742814]
  adaptation(D65, D50, 'bradford').forEach((v, i) => expect(v).toBeCloseTo(want[i]!, 9))
})

it('undoes a matrix by its inverse', () => {
  const m = under({ kelvin: 3000, kind: 'glowing', tint: 0 }, 'cat02')
  product(m, inverse(m)).forEach((v, i) => expect(v).toBeCloseTo(i % 4 === 0 ? 1 : 0, 12))
})
