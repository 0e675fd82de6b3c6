package colour

import "math"

// Shown is a colour for a screen of 8-bit sRGB. Where the screen cannot show the colour, Mapped is set
// and what is shown has its lightness and hue but less chroma: as much as fits.
type Shown struct {
	R, G, B uint8
	Mapped  bool
}

// Show is what to paint for a colour of finite values. Where its lightness is beyond black or white
// it is brought back to that first, and is mapped too.
func Show(c Lab) Shown {
	if levels := levelsOf(c); fits(levels) {
		return shownAs(levels, false)
	}
	return shownAs(levelsOf(mostThatFits(c)), true)
}

// levelsOf are the channels in steps of 8 bits, not yet whole.
func levelsOf(c Lab) [3]float64 {
	light := SRGB.OfLab(c)
	return [3]float64{255 * Encoded(light.R), 255 * Encoded(light.G), 255 * Encoded(light.B)}
}

// fits asks whether each channel is nearest to a step that there is: a colour that lies over the edge
// by less is shown no less truly than others.
func fits(levels [3]float64) bool {
	for _, v := range levels {
		if v < -0.5 || v >= 255.5 {
			return false
		}
	}
	return true
}

// mostThatFits halves its way, so often that no channel could still change.
func mostThatFits(c Lab) Lab {
	keep := func(share float64) Lab { return Lab{L: min(max(c.L, 0), 100), A: share * c.A, B: share * c.B} }
	low, high := 0.0, 1.0
	for range 40 {
		if middle := (low + high) / 2; fits(levelsOf(keep(middle))) {
			low = middle
		} else {
			high = middle
		}
	}
	return keep(low)
}

func shownAs(levels [3]float64, mapped bool) Shown {
	whole := func(v float64) uint8 { return uint8(min(max(math.Floor(v+0.5), 0), 255)) }
	return Shown{R: whole(levels[0]), G: whole(levels[1]), B: whole(levels[2]), Mapped: mapped}
}
