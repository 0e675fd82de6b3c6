package drift

import (
	"math"

	"corymb/internal/colour"
)

// What the eye sees of a shift in CIELAB, by CIEDE2000, and what it sees of the shift's uncertainty.

// seen is a shift from a colour in CIEDE2000 units.
type seen struct {
	from colour.Lab
	by   vector
}

func (s seen) difference() colour.Difference {
	return colour.Between(s.from, labVector(s.from).plus(s.by).lab())
}

// slopes are how the parts of the difference, lightness, chroma and hue, change with the shift.
func (s seen) slopes() square {
	return square(colour.SlopesOf(s.from, labVector(s.from).plus(s.by).lab()).ByTo)
}

// totalSlope is the slope of the whole difference, from those of its parts; the term that turns chroma and hue in the
// blues is taken to stay as it is.
func (s seen) totalSlope() vector {
	d, slopes := s.difference(), s.slopes()
	sum := vector(slopes[0]).times(d.Lightness).
		plus(vector(slopes[1]).times(d.Chroma + d.Rotation/2*d.Hue)).
		plus(vector(slopes[2]).times(d.Hue + d.Rotation/2*d.Chroma))
	if d.Total == 0 {
		return vector{}
	}
	return sum.times(1 / d.Total)
}

// towards is the weights by which shifts are told along this one, in its own units: its own comes to its total.
func (s seen) towards() vector {
	slope := s.totalSlope()
	along := slope.dot(s.by)
	if along <= 0 {
		return vector{}
	}
	return slope.times(s.difference().Total / along)
}

// metric is the square of small differences from a colour: the sum of squares of the parts, with the term
// that turns chroma and hue in the blues.
func metric(from colour.Lab) square {
	s := seen{from: from}
	slopes := s.slopes()
	turn := outer(slopes[1], slopes[2]).scale(s.difference().Rotation / 2)
	return slopes.transposed().times(slopes).plus(turn).plus(turn.transposed())
}

// reach is how far one must go along a direction for a difference of a size.
func reach(from colour.Lab, direction vector, size float64) vector {
	length := size
	for range 20 {
		d := seen{from, direction.times(length)}.difference().Total
		if math.Abs(d-size) < 1e-4*size || d == 0 {
			break
		}
		length *= size / d
	}
	return direction.times(length)
}

// chiDistance is the chance that a point, spread by a standard normal in three dimensions about a place that is away
// from 0, lies within r of 0: the noncentral chi distribution of 3 degrees of freedom, which has a closed form.
func chiDistance(r, away float64) float64 {
	below := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	density := func(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
	if away < 1e-4 {
		return 2*below(r) - 1 - 2*r*density(r)
	}
	return below(r-away) - below(-r-away) - (density(r-away)-density(r+away))/away
}

// distances are the ends of the interval of a true distance from 0, of which r was seen, in units of its uncertainty:
// those at which so large a distance, or so small a one, is seen once in twenty times. It begins at 0 where nothing
// was shown, and however near 0 that was, what a normal's interval reaches may be true.
func distances(r float64) (lo, hi float64) {
	solve := func(chance float64) float64 {
		from, to := 0.0, r+5
		for range 40 {
			middle := (from + to) / 2
			if chiDistance(r, middle) > chance {
				from = middle
			} else {
				to = middle
			}
		}
		return from
	}
	return solve(1 - tail), max(normalEnd, solve(tail))
}
