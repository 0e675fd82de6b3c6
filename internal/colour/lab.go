// Package colour is the science of measured colour: RGB of a screen or camera to XYZ and CIELAB and
// back, and how far two colours are apart to the eye.
//
// Colours are kept as CIELAB of white D50, which is what Lab means where nothing else is said. The
// same is written in TypeScript in webapp/src/colour; testdata/vectors/colour.json holds both to a
// third program.
package colour

import "math"

// Lab is a colour in CIELAB: lightness 0 to 100, A from green to red, B from blue to yellow. A
// difference of about 1 can just be seen.
type Lab struct{ L, A, B float64 }

// Chroma is how far the colour is from grey of its lightness.
func (c Lab) Chroma() float64 { return math.Hypot(c.A, c.B) }

// XYZ is a colour in CIE 1931 XYZ, where the Y of white is 1.
type XYZ struct{ X, Y, Z float64 }

// The whites, worked out from the chromaticities xy (0.3127, 0.3290) and (0.3457, 0.3585) of
// CIE 15 as X = x/y, Z = (1-x-y)/y.
var (
	D65 = XYZ{0.9504559270516717, 1, 1.0890577507598784}
	D50 = XYZ{0.9642956764295676, 1, 0.8251046025104602}
)

// The constants of CIELAB as fractions (CIE 15:2004, section 8.2.1, notes), so that its two branches meet.
const (
	labBend  = 216.0 / 24389
	labSlope = 24389.0 / 27
)

// LabOf is the CIELAB of a colour that was seen under the white.
func LabOf(c, white XYZ) Lab {
	x, y, z := labRoot(c.X/white.X), labRoot(c.Y/white.Y), labRoot(c.Z/white.Z)
	return Lab{L: 116*y - 16, A: 500 * (x - y), B: 200 * (y - z)}
}

// XYZ undoes LabOf.
func (c Lab) XYZ(white XYZ) XYZ {
	y := (c.L + 16) / 116
	return XYZ{
		X: white.X * labCube(y+c.A/500),
		Y: white.Y * labCube(y),
		Z: white.Z * labCube(y-c.B/200),
	}
}

func labRoot(t float64) float64 {
	if t > labBend {
		return math.Cbrt(t)
	}
	return (labSlope*t + 16) / 116
}

func labCube(f float64) float64 {
	if t := f * f * f; t > labBend {
		return t
	}
	return (116*f - 16) / labSlope
}
