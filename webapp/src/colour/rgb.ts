// RGB of a screen or a photo to the colour as it is kept, and back.

import { D50, labOf, xyzOf, type Lab, type XYZ } from './lab'

/** Linear light in the primaries of a space, 0 to 1 where the space can show the colour. */
export interface RGB {
  readonly r: number
  readonly g: number
  readonly b: number
}

type Row = readonly [number, number, number]
type Matrix = readonly [Row, Row, Row]

/** The primaries of an RGB space whose white is D65. */
export interface Space {
  readonly toXYZ: Matrix
  readonly fromXYZ: Matrix
}

// The matrices follow from the primaries' chromaticities and the white D65: in each column the XYZ of
// a primary, so bright that the three together are white. Worked out in fractions and rounded once, as
// the tests of internal/colour do again. Primaries in xy, R, G, B:
//
//   sRGB (IEC 61966-2-1)         (0.640, 0.330) (0.300, 0.600) (0.150, 0.060)
//   Display P3 (SMPTE RP 431-2)  (0.680, 0.320) (0.265, 0.690) (0.150, 0.060)
export const sRGB: Space = {
  toXYZ: [
    [0.4123907992659595, 0.35758433938387796, 0.1804807884018343],
    [0.21263900587151036, 0.7151686787677559, 0.07219231536073371],
    [0.01933081871559185, 0.11919477979462599, 0.9505321522496606],
  ],
  fromXYZ: [
    [3.2409699419045213, -1.5373831775700935, -0.4986107602930033],
    [-0.9692436362808798, 1.8759675015077206, 0.04155505740717561],
    [0.05563007969699361, -0.20397695888897657, 1.0569715142428786],
  ],
}

export const displayP3: Space = {
  toXYZ: [
    [0.48657094864821626, 0.26566769316909294, 0.1982172852343625],
    [0.22897456406974884, 0.6917385218365062, 0.079286914093745],
    [0, 0.045113381858902575, 1.0439443689009757],
  ],
  fromXYZ: [
    [2.4934969119414245, -0.9313836179191236, -0.40271078445071684],
    [-0.829488969561575, 1.7626640603183468, 0.02362468584194359],
    [0.035845830243784335, -0.07617238926804171, 0.9568845240076873],
  ],
}

// The Bradford adaptation between the whites D65 and D50: the cones' answers
//
//    0.8951  0.2664 -0.1614
//   -0.7502  1.7135  0.0367
//    0.0389 -0.0685  1.0296
//
// are each scaled by the ratio of the whites' (the linear form, as in ICC.1:2010, annex E).
const d65ToD50: Matrix = [
  [1.0479297925449966, 0.022946870601609527, -0.050192266289205194],
  [0.029627808770055674, 0.99043442675388, -0.01707379906341879],
  [-0.009243040646204521, 0.015055191490298164, 0.751874281428137],
]
const d50ToD65: Matrix = [
  [0.9554734214880752, -0.023098454948764523, 0.06325924320057066],
  [-0.028369709333863583, 1.0099953980813041, 0.021041441191917306],
  [0.012314014864481996, -0.02050764929889898, 1.330365926242124],
]

/** The light of a channel's value, both 0 to 1, by the curve of IEC 61966-2-1, which Display P3 has too.
 * Below 0, where no value is but a colour worked out may be, it is mirrored. */
export function decoded(value: number): number {
  if (value < 0) return -decoded(-value)
  return value <= 0.04045 ? value / 12.92 : Math.pow((value + 0.055) / 1.055, 2.4)
}

/** Undoes decoded: so its curve bends where that one's does, which the standard rounds to 0.0031308. */
export function encoded(light: number): number {
  if (light < 0) return -encoded(-light)
  return light <= 0.04045 / 12.92 ? light * 12.92 : 1.055 * Math.pow(light, 1 / 2.4) - 0.055
}

/** The colour under D65. */
export function xyzOfRGB(c: RGB, space: Space): XYZ {
  const [X, Y, Z] = times(space.toXYZ, c.r, c.g, c.b)
  return { X, Y, Z }
}

/** Undoes xyzOfRGB. */
export function rgbOfXYZ(c: XYZ, space: Space): RGB {
  const [r, g, b] = times(space.fromXYZ, c.X, c.Y, c.Z)
  return { r, g, b }
}

/** The colour as it is kept: adapted to D50. */
export function labOfRGB(c: RGB, space: Space): Lab {
  return labOf(toD50(xyzOfRGB(c, space)), D50)
}

/** Undoes labOfRGB. */
export function rgbOfLab(c: Lab, space: Space): RGB {
  return rgbOfXYZ(toD65(xyzOf(c, D50)), space)
}

/** The colour that looks under D50 as c does under D65. */
export function toD50(c: XYZ): XYZ {
  const [X, Y, Z] = times(d65ToD50, c.X, c.Y, c.Z)
  return { X, Y, Z }
}

/** Undoes toD50. */
export function toD65(c: XYZ): XYZ {
  const [X, Y, Z] = times(d50ToD65, c.X, c.Y, c.Z)
  return { X, Y, Z }
}

function times([p, q, r]: Matrix, x: number, y: number, z: number): Row {
  return [
    p[0] * x + p[1] * y + p[2] * z,
    q[0] * x + q[1] * y + q[2] * z,
    r[0] * x + r[1] * y + r[2] * z,
  ]
}
