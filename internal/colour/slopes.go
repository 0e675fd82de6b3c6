package colour

// Slopes are how the parts of a Difference change as either of its colours does: rows are lightness,
// chroma and hue, columns L, a and b.
type Slopes struct {
	ByFrom, ByTo Matrix
	// Grey is set where a colour was nearer to grey than a chroma of 1. There the direction in which hue
	// turns is not known, or turns within the error of any measurement, so the slopes are those of a chroma
	// of 1 in its hue; of grey itself, in the other's hue.
	Grey bool
}

// The chroma that slopes need, and the step of the differences that they are taken from.
const (
	leastChroma = 1
	slopeStep   = 1e-5
)

// SlopesOf are the slopes at a difference, of finite values. Where hues are opposite, and the formula
// jumps, they are those of the side on which the difference is.
func SlopesOf(from, to Lab) Slopes {
	from, to, grey := coloured(from, to)
	p := pairOf(from, to)
	h1, h2 := p.hues()
	parts := func(from, to Lab) [3]float64 {
		p := pairOf(from, to)
		d := p.difference(inTurn(hue(p.a1, p.b1), h1), inTurn(hue(p.a2, p.b2), h2))
		return [3]float64{d.Lightness, d.Chroma, d.Hue}
	}
	return Slopes{
		ByFrom: slopes(func(c Lab) [3]float64 { return parts(c, to) }, from),
		ByTo:   slopes(func(c Lab) [3]float64 { return parts(from, c) }, to),
		Grey:   grey,
	}
}

// Carry is the covariance of lightness, chroma and hue of a difference, from those of its two colours,
// which are independent. To first order: it holds where chromas are several times their errors.
func (s Slopes) Carry(from, to Matrix) Matrix {
	one, two := s.ByFrom.carry(from), s.ByTo.carry(to)
	for i, row := range two {
		for j, v := range row {
			one[i][j] += v
		}
	}
	return one
}

// slopes are central differences of parts.
func slopes(parts func(Lab) [3]float64, at Lab) Matrix {
	var m Matrix
	for j, step := range []Lab{{L: slopeStep}, {A: slopeStep}, {B: slopeStep}} {
		more := parts(Lab{L: at.L + step.L, A: at.A + step.A, B: at.B + step.B})
		less := parts(Lab{L: at.L - step.L, A: at.A - step.A, B: at.B - step.B})
		for i := range m {
			m[i][j] = (more[i] - less[i]) / (2 * slopeStep)
		}
	}
	return m
}

// coloured are the two colours with the least chroma that slopes need, and whether one had less.
func coloured(from, to Lab) (Lab, Lab, bool) {
	grey := from.Chroma() < leastChroma || to.Chroma() < leastChroma
	return withLeastChroma(from, to), withLeastChroma(to, from), grey
}

// withLeastChroma takes the hue of another colour for one that has none, and that of +a where neither has.
func withLeastChroma(c, other Lab) Lab {
	hued := c
	if hued.Chroma() == 0 {
		hued.A, hued.B = other.A, other.B
	}
	if hued.Chroma() == 0 {
		hued.A = 1
	}
	scale := max(c.Chroma(), leastChroma) / hued.Chroma()
	return Lab{L: c.L, A: scale * hued.A, B: scale * hued.B}
}
