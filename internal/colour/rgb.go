package colour

import "math"

// RGB is linear light in the primaries of a Space, 0 to 1 where the space can show the colour.
type RGB struct{ R, G, B float64 }

// Space is the primaries of an RGB space whose white is D65.
type Space struct{ toXYZ, fromXYZ Matrix }

// The matrices follow from the primaries' chromaticities and the white D65: in each column the XYZ of
// a primary, so bright that the three together are white. Worked out in fractions and rounded once; the
// tests work them out again. Primaries in xy, R, G, B:
//
//	sRGB (IEC 61966-2-1)         (0.640, 0.330) (0.300, 0.600) (0.150, 0.060)
//	Display P3 (SMPTE RP 431-2)  (0.680, 0.320) (0.265, 0.690) (0.150, 0.060)
var (
	SRGB = Space{
		toXYZ: Matrix{
			{0.4123907992659595, 0.35758433938387796, 0.1804807884018343},
			{0.21263900587151036, 0.7151686787677559, 0.07219231536073371},
			{0.01933081871559185, 0.11919477979462599, 0.9505321522496606},
		},
		fromXYZ: Matrix{
			{3.2409699419045213, -1.5373831775700935, -0.4986107602930033},
			{-0.9692436362808798, 1.8759675015077206, 0.04155505740717561},
			{0.05563007969699361, -0.20397695888897657, 1.0569715142428786},
		},
	}
	DisplayP3 = Space{
		toXYZ: Matrix{
			{0.48657094864821626, 0.26566769316909294, 0.1982172852343625},
			{0.22897456406974884, 0.6917385218365062, 0.079286914093745},
			{0, 0.045113381858902575, 1.0439443689009757},
		},
		fromXYZ: Matrix{
			{2.4934969119414245, -0.9313836179191236, -0.40271078445071684},
			{-0.829488969561575, 1.7626640603183468, 0.02362468584194359},
			{0.035845830243784335, -0.07617238926804171, 0.9568845240076873},
		},
	}
)

// The Bradford adaptation between the whites D65 and D50: the cones' answers
//
//	 0.8951  0.2664 -0.1614
//	-0.7502  1.7135  0.0367
//	 0.0389 -0.0685  1.0296
//
// are each scaled by the ratio of the whites' (the linear form, as in ICC.1:2010, annex E).
var (
	d65ToD50 = Matrix{
		{1.0479297925449966, 0.022946870601609527, -0.050192266289205194},
		{0.029627808770055674, 0.99043442675388, -0.01707379906341879},
		{-0.009243040646204521, 0.015055191490298164, 0.751874281428137},
	}
	d50ToD65 = Matrix{
		{0.9554734214880752, -0.023098454948764523, 0.06325924320057066},
		{-0.028369709333863583, 1.0099953980813041, 0.021041441191917306},
		{0.012314014864481996, -0.02050764929889898, 1.330365926242124},
	}
)

// Decoded is the light of a channel's value, both 0 to 1, by the curve of IEC 61966-2-1, which
// Display P3 has too. Below 0, where no value is but a colour worked out may be, it is mirrored.
func Decoded(value float64) float64 {
	switch {
	case value < 0:
		return -Decoded(-value)
	case value <= 0.04045:
		return value / 12.92
	}
	return math.Pow((value+0.055)/1.055, 2.4)
}

// Encoded undoes Decoded: so its curve bends where that one's does, which the standard rounds to 0.0031308.
func Encoded(light float64) float64 {
	switch {
	case light < 0:
		return -Encoded(-light)
	case light <= 0.04045/12.92:
		return light * 12.92
	}
	return 1.055*math.Pow(light, 1/2.4) - 0.055
}

// XYZ is the colour under D65.
func (s Space) XYZ(c RGB) XYZ {
	x, y, z := s.toXYZ.times(c.R, c.G, c.B)
	return XYZ{x, y, z}
}

// RGB undoes XYZ.
func (s Space) RGB(c XYZ) RGB {
	r, g, b := s.fromXYZ.times(c.X, c.Y, c.Z)
	return RGB{r, g, b}
}

// Lab is the colour as it is kept: adapted to D50.
func (s Space) Lab(c RGB) Lab { return LabOf(ToD50(s.XYZ(c)), D50) }

// OfLab undoes Lab.
func (s Space) OfLab(c Lab) RGB { return s.RGB(ToD65(c.XYZ(D50))) }

// ToD50 is the colour that looks under D50 as c does under D65.
func ToD50(c XYZ) XYZ {
	x, y, z := d65ToD50.times(c.X, c.Y, c.Z)
	return XYZ{x, y, z}
}

// ToD65 undoes ToD50.
func ToD65(c XYZ) XYZ {
	x, y, z := d50ToD65.times(c.X, c.Y, c.Z)
	return XYZ{x, y, z}
}
