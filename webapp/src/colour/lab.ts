// CIELAB, how measured colours are kept, and XYZ under the two whites.
//
// The same as internal/colour in Go; testdata/vectors/colour.json holds both to a third program.

/** A colour in CIELAB, of white D50 where nothing else is said: lightness 0 to 100, a from green to red,
 * b from blue to yellow. A difference of about 1 can just be seen. */
export interface Lab {
  readonly L: number
  readonly a: number
  readonly b: number
}

/** A colour in CIE 1931 XYZ, where the Y of white is 1. */
export interface XYZ {
  readonly X: number
  readonly Y: number
  readonly Z: number
}

// Worked out from the chromaticities xy (0.3127, 0.3290) and (0.3457, 0.3585) of CIE 15 as X = x/y,
// Z = (1-x-y)/y.
export const D65: XYZ = { X: 0.9504559270516717, Y: 1, Z: 1.0890577507598784 }
export const D50: XYZ = { X: 0.9642956764295676, Y: 1, Z: 0.8251046025104602 }

// The constants of CIELAB as fractions (CIE 15:2004, section 8.2.1, notes), so that its two branches meet.
const bend = 216 / 24389
const slope = 24389 / 27

/** How far a colour is from grey of its lightness. */
export function chroma(c: Lab): number {
  return Math.hypot(c.a, c.b)
}

/** The CIELAB of a colour that was seen under the white. */
export function labOf(c: XYZ, white: XYZ): Lab {
  const x = root(c.X / white.X)
  const y = root(c.Y / white.Y)
  const z = root(c.Z / white.Z)
  return { L: 116 * y - 16, a: 500 * (x - y), b: 200 * (y - z) }
}

/** Undoes labOf. */
export function xyzOf(c: Lab, white: XYZ): XYZ {
  const y = (c.L + 16) / 116
  return { X: white.X * cube(y + c.a / 500), Y: white.Y * cube(y), Z: white.Z * cube(y - c.b / 200) }
}

function root(t: number): number {
  return t > bend ? Math.cbrt(t) : (slope * t + 16) / 116
}

function cube(f: number): number {
  const t = f * f * f
  return t > bend ? t : (116 * f - 16) / slope
}
