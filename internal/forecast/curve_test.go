package forecast

import (
	"math"
	"testing"

	"corymb/internal/crop"
)

// Common practice, no source.
func TestASpringFlushLastsFourToFiveWeeksAndItsThirdIsTheHeaviest(t *testing.T) {
	prior := priorsOf[crop.FlushSpring]
	c := curve{length: math.Exp(prior.length.Mean), a: math.Exp(prior.a.Mean), b: math.Exp(prior.b.Mean)}
	var weeks [6]float64
	for w := range weeks {
		weeks[w] = c.share(float64(7*(w+1))) - c.share(float64(7*w))
	}
	for w, share := range weeks {
		if w != 2 && share >= weeks[2] {
			t.Errorf("week %d gives %.2f of the flush, the third %.2f", w+1, share, weeks[2])
		}
	}
	if inFive := c.share(35) - c.share(0); inFive < 0.95 {
		t.Errorf("five weeks give %.2f of the flush", inFive)
	}
	if inThree := c.share(21) - c.share(0); inThree > 0.8 {
		t.Errorf("three weeks give %.2f of the flush already", inThree)
	}
}

// The closed form against the integral of the density a b x^(a-1) (1-x^a)^(b-1), by Simpson's rule.
func TestTheCurveIsTheIntegralOfItsDensity(t *testing.T) {
	c := curve{length: 1, a: 2.2, b: 3}
	density := func(x float64) float64 { return c.a * c.b * math.Pow(x, c.a-1) * math.Pow(1-math.Pow(x, c.a), c.b-1) }
	for _, to := range []float64{0.1, 0.35, 0.6, 0.95} {
		const steps = 20_000
		h, sum := to/steps, density(0)+density(to)
		for i := 1; i < steps; i++ {
			sum += density(float64(i)*h) * float64(2+2*(i%2))
		}
		if got, want := c.regular(to), sum*h/3; math.Abs(got-want) > 1e-9 {
			t.Errorf("by %.2f: %.12f, want %.12f", to, got, want)
		}
	}
}
