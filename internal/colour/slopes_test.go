package colour

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func partsOf(d Difference) three { return three{d.Lightness, d.Chroma, d.Hue} }

func plus(c Lab, step three) Lab { return Lab{c.L + step[0], c.A + step[1], c.B + step[2]} }

func hued(light, chroma, hue float64) Lab {
	sin, cos := math.Sincos(radians(hue))
	return Lab{light, chroma * cos, chroma * sin}
}

// At no difference, on the a axis and at L = 50, the paper's weights give them by hand.
func TestSlopesAtNoDifference(t *testing.T) {
	const a = 40
	c7 := math.Pow(a, 7)
	stretch := 1 + 0.5*(1-math.Sqrt(c7/(c7+math.Pow(25, 7))))
	chroma := stretch * a
	degree := math.Pi / 180
	toHue := 1 - 0.17*math.Cos(-30*degree) + 0.24 + 0.32*math.Cos(6*degree) - 0.20*math.Cos(-63*degree)
	want := Matrix{{1, 0, 0}, {0, stretch / (1 + 0.045*chroma), 0}, {0, 0, 1 / (1 + 0.015*chroma*toHue)}}
	s := SlopesOf(Lab{50, a, 0}, Lab{50, a, 0})
	if s.Grey {
		t.Error("a chroma of 40 is taken for grey")
	}
	for i := range want {
		nearThree(t, fmt.Sprint("by to, row ", i), s.ByTo[i], want[i], 1e-8)
		nearThree(t, fmt.Sprint("by from, row ", i), s.ByFrom[i], three{-want[i][0], -want[i][1], -want[i][2]}, 1e-8)
	}
}

func TestPartsFollowTheSlopes(t *testing.T) {
	light, chroma := rapid.Float64Range(0, 100), rapid.Float64Range(3, 150)
	rapid.Check(t, func(t *rapid.T) {
		// Hues that are not opposite, for there the parts do jump.
		hue := rapid.Float64Range(0, 360).Draw(t, "hue")
		turned := hue + rapid.Float64Range(-179, 179).Draw(t, "turn")
		from := hued(light.Draw(t, "from L"), chroma.Draw(t, "from chroma"), hue)
		to := hued(light.Draw(t, "to L"), chroma.Draw(t, "to chroma"), turned)
		step := rapid.SampledFrom([]three{{1e-4}, {0, 1e-4}, {0, 0, 1e-4}, {1e-4, -1e-4, 1e-4}}).Draw(t, "step")
		before, s := partsOf(Between(from, to)), SlopesOf(from, to)
		for what, c := range map[string]struct {
			slopes Matrix
			after  Difference
		}{
			"from": {s.ByFrom, Between(plus(from, step), to)},
			"to":   {s.ByTo, Between(from, plus(to, step))},
		} {
			for i, after := range partsOf(c.after) {
				want := c.slopes[i][0]*step[0] + c.slopes[i][1]*step[1] + c.slopes[i][2]*step[2]
				if got := after - before[i]; math.Abs(got-want) > 1e-6 {
					t.Fatalf("part %d by %s of %v to %v changed by %g, slopes say %g", i, what, from, to, got, want)
				}
			}
		}
	})
}

func TestSlopesOfOppositeHuesDoNotJump(t *testing.T) {
	from, to := Lab{50, 12, 7}, Lab{52, -12, -7}
	s, beside := SlopesOf(from, to), SlopesOf(from, Lab{52, -12, -6.999})
	if Between(from, to).Hue*Between(from, Lab{52, -12, -6.999}).Hue < 0 {
		beside = SlopesOf(from, Lab{52, -12, -7.001})
	}
	for i := range s.ByTo {
		nearThree(t, fmt.Sprint("row ", i), s.ByTo[i], beside.ByTo[i], 1e-3)
		nearThree(t, fmt.Sprint("row ", i), s.ByFrom[i], beside.ByFrom[i], 1e-3)
	}
}

func TestSlopesNearGreyAreThoseOfTheLeastChroma(t *testing.T) {
	cases := map[string]struct{ from, to, likeFrom, likeTo Lab }{
		"two greys":            {Lab{90, 0, 0}, Lab{92, 0, 0}, Lab{90, 1, 0}, Lab{92, 1, 0}},
		"from grey":            {Lab{90, 0, 0}, Lab{90, 3, 4}, Lab{90, 0.6, 0.8}, Lab{90, 3, 4}},
		"to grey":              {Lab{90, -5, 0}, Lab{91, 0, 0}, Lab{90, -5, 0}, Lab{91, -1, 0}},
		"a hue that is hardly": {Lab{90, 0, -0.01}, Lab{90, 3, 4}, Lab{90, 0, -1}, Lab{90, 3, 4}},
	}
	for name, c := range cases {
		got, like := SlopesOf(c.from, c.to), SlopesOf(c.likeFrom, c.likeTo)
		if !got.Grey || like.Grey {
			t.Errorf("%s: grey is %v, of chroma 1 %v", name, got.Grey, like.Grey)
		}
		for i := range got.ByTo {
			nearThree(t, fmt.Sprint(name, " by from, row ", i), got.ByFrom[i], like.ByFrom[i], 1e-9)
			nearThree(t, fmt.Sprint(name, " by to, row ", i), got.ByTo[i], like.ByTo[i], 1e-9)
		}
	}
}

// Simulated: colours with errors of known covariance.
func TestWhatIsCarriedIsHowThePartsScatter(t *testing.T) {
	const seed, draws = 7, 40_000
	t.Logf("seed %d", seed)
	rnd := rand.New(rand.NewPCG(seed, 0))
	// Lower triangles whose product with themselves is the covariance.
	one, two := Matrix{{0.6}, {0.2, 0.5}, {-0.1, 0.3, 0.7}}, Matrix{{0.4}, {-0.3, 0.6}, {0.1, 0.1, 0.5}}
	unit := Matrix{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	erring := func(c Lab, root Matrix) Lab {
		z := three{rnd.NormFloat64(), rnd.NormFloat64(), rnd.NormFloat64()}
		var step three
		for i := range step {
			step[i] = root[i][0]*z[0] + root[i][1]*z[1] + root[i][2]*z[2]
		}
		return plus(c, step)
	}
	for _, c := range []struct {
		name     string
		from, to Lab
	}{
		{"a red that fades", Lab{45, 50, 20}, Lab{52, 38, 18}},
		{"a yellow", Lab{80, 5, 60}, Lab{80, 5, 60}},
		{"a pale pink", Lab{82, 12, 3}, Lab{84, 9, 5}},
		{"a violet, in blues", Lab{35, 25, -45}, Lab{38, 18, -40}},
	} {
		var sum three
		var squares Matrix
		for range draws {
			parts := partsOf(Between(erring(c.from, one), erring(c.to, two)))
			for i := range parts {
				sum[i] += parts[i]
				for j := range parts {
					squares[i][j] += parts[i] * parts[j]
				}
			}
		}
		got := SlopesOf(c.from, c.to).Carry(one.carry(unit), two.carry(unit))
		for i := range got {
			for j := range got {
				want := squares[i][j]/draws - sum[i]/draws*sum[j]/draws
				near(t, fmt.Sprintf("%s: covariance %d, %d", c.name, i, j), got[i][j], want, 0.04*math.Sqrt(got[i][i]*got[j][j]))
			}
		}
	}
}
