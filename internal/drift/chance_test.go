package drift

import (
	"math"
	"math/rand/v2"
	"testing"

	"corymb/internal/colour"
)

// The chances are held against the rule itself, applied to drawn estimates.
func TestChancesAreHowOftenTheRuleFlags(t *testing.T) {
	const draws, df = 6_000, mostDF
	const seed = 21
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 0))
	draw := func(cov square) vector {
		return rootOf(cov).of(vector{source.NormFloat64(), source.NormFloat64(), source.NormFloat64()})
	}
	for _, c := range []struct {
		name string
		from colour.Lab
		sd   vector // of the season, along lightness, chroma and hue
		day  float64
		days int
	}{
		{"pale, two days", heads[0], vector{1, 1.2, 1}, 0.8, 2},
		{"strong, two days", heads[4], vector{1.2, 2, 1.5}, 1, 2},
		{"pink, days far apart", heads[3], vector{1, 1.2, 1}, 3, 2},
		{"yellow, three days", heads[2], vector{1, 1.5, 1}, 1, 3},
		{"hardly any noise", heads[5], vector{0.1, 0.1, 0.1}, 0.1, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := frameAt(labVector(c.from))
			f.clear = 1
			cov := f.turned(diagonal(vector{c.sd[0] * c.sd[0], c.sd[1] * c.sd[1], c.sd[2] * c.sd[2]}))
			day := identity.scale(c.day * c.day)
			p := prospect{from: c.from, axes: f.axes(), cov: cov, critical: criticalDistance(df), threshold: visibleFrom}
			for range c.days {
				p.days = append(p.days, cov.plus(day))
			}
			p = p.ready()
			for _, size := range []float64{3, 5, 8} {
				noticed, confirmed := 0, 0
				for i := range draws {
					by := reach(c.from, p.axes.of(directionsAsked[i%len(directionsAsked)]), size).plus(draw(cov))
					d := difference{shift: shift{by: by, cov: cov}, df: df, scale: cov.scale(cutOff * (df - 2) / df), wider: cutOff}
					// Days lie about the season so that their mean is the season's.
					var mean vector
					var off []vector
					for range c.days {
						e := draw(day).times(math.Sqrt(float64(c.days) / float64(c.days-1)))
						off, mean = append(off, e), mean.plus(e.times(1/float64(c.days)))
					}
					for _, e := range off {
						d.days = append(d.days, dayShift{by: by.plus(e).minus(mean), cov: cov.plus(day)})
					}
					j := judge(d, c.from, nil)
					noticed += is(j.flagged())
					confirmed += is(j.flagged() && j.confirmed)
				}
				n, k := p.chances(size)
				if got := float64(noticed) / draws; math.Abs(got-n) > 0.04 {
					t.Errorf("%g units: noticed %.3f, said %.3f", size, got, n)
				}
				if got := float64(confirmed) / draws; math.Abs(got-k) > 0.06 {
					t.Errorf("%g units: confirmed %.3f, said %.3f", size, got, k)
				}
			}
		})
	}
}

// rootOf is a lower triangular R with S = R R', of a covariance.
func rootOf(s square) square {
	var r square
	for i := range 3 {
		for j := range i + 1 {
			v := s[i][j]
			for k := range j {
				v -= r[i][k] * r[j][k]
			}
			if i == j {
				r[i][i] = math.Sqrt(v)
			} else {
				r[i][j] = v / r[j][j]
			}
		}
	}
	return r
}

// Where only the test matters and directions are alike, the chance is of a noncentral chi-square of 3 degrees of freedom.
// It is 0.8 at the noncentralities of Haynam, Govindarajulu and Leone (1970, Tables of the Cumulative Non-central Chi-square
// Distribution; cited from memory) for levels of 0.05 and 0.01; elsewhere it is compared with the Poisson mixture of central
// chi-squares.
func TestTheTestsPowerIsThatOfANoncentralChiSquare(t *testing.T) {
	const at5, at1, atHalf = 7.814727903251179, 11.344866730144373, 12.838156466598647 // quantiles of the central one
	power := func(noncentrality, critical float64) float64 {
		p := prospect{from: heads[3], cov: identity, critical: critical, threshold: 1e-9, axes: identity}.ready()
		noticed, _ := p.along(vector{math.Sqrt(noncentrality), 0, 0}, 1)
		return noticed
	}
	mixture := func(noncentrality, critical float64) float64 {
		sum, weight := 0.0, math.Exp(-noncentrality/2)
		for k := range 200 {
			sum += weight * chiSquareAbove(critical, 3+2*k)
			weight *= noncentrality / 2 / float64(k+1)
		}
		return sum
	}
	for _, c := range []struct{ noncentrality, critical, want float64 }{
		{10.903, at5, 0.8}, {15.458, at1, 0.8},
		{1, atHalf, mixture(1, atHalf)}, {5, atHalf, mixture(5, atHalf)}, {12, atHalf, mixture(12, atHalf)}, {20, atHalf, mixture(20, atHalf)},
	} {
		if got := power(c.noncentrality, c.critical); math.Abs(got-c.want) > 2e-3 {
			t.Errorf("noncentrality %g beyond %.2f: %.4f, want %.4f", c.noncentrality, c.critical, got, c.want)
		}
		if exact := mixture(c.noncentrality, c.critical); math.Abs(exact-c.want) > 1e-4 {
			t.Errorf("noncentrality %g beyond %.2f: the mixture says %.5f, want %.5f", c.noncentrality, c.critical, exact, c.want)
		}
	}
}

// chiSquareAbove by its recurrence in the degrees of freedom, from 1, of an odd number of them.
func chiSquareAbove(x float64, df int) float64 {
	sum, term := math.Erfc(math.Sqrt(x/2)), math.Sqrt(2*x/math.Pi)*math.Exp(-x/2)
	for k := 3; k <= df; k += 2 {
		sum += term
		term *= x / float64(k)
	}
	return sum
}

func TestADriftThatIsNoticedIsNoSmallerForFewerPhotos(t *testing.T) {
	p := guessing()
	before := math.Inf(1)
	for _, photos := range []int{1, 2, 4, 8, 16} {
		now := p.prospect(heads[3], photos, 1).noticedWith(noticedChance)
		if now > before {
			t.Errorf("%d photos show a drift of %.2f, fewer one of %.2f", photos, now, before)
		}
		before = now
	}
	days := map[int]float64{}
	for _, p := range p.table() {
		if p.Days == 1 && p.Confirmed != 0 {
			t.Errorf("one day confirms: %+v", p)
		}
		if p.Confirmed > p.Noticed+1e-12 || p.Noticed > 1 || p.Noticed < 0 {
			t.Errorf("%+v", p)
		}
		if p.Photos == 6 && p.Size == 4 {
			days[p.Days] = p.Noticed
		}
	}
	if !(days[1] < days[2] && days[2] < days[3]) {
		t.Errorf("six photos on one, two and three days: %v", days)
	}
}

func TestPlansAreMadeFromWhatWasRead(t *testing.T) {
	m := ordinaryStand(23)
	m.seasons = 2
	r := mustJudge(t, m.grow().Stand)
	m = ordinaryStand(23)
	m.seasons, m.wobble = 2, vector{3, 4, 3}
	restless := mustJudge(t, m.grow().Stand)
	for i, told := range r.Power {
		if other := restless.Power[i]; other.Noticed >= told.Noticed {
			t.Errorf("restless plants show %+v, still ones %+v", other, told)
		}
	}
}

// Of a true distance the interval holds 9 in 10, and more near 0, where it begins at 0.
func TestIntervalsOfASizeHoldIt(t *testing.T) {
	const seed, draws = 22, 4000
	t.Logf("seed %d", seed)
	source := rand.New(rand.NewPCG(seed, 0))
	for _, away := range []float64{0, 0.5, 1, 2, 3, 5, 9} {
		held := 0
		for range draws {
			x := vector{away + source.NormFloat64(), source.NormFloat64(), source.NormFloat64()}
			lo, hi := distances(math.Sqrt(x.dot(x)))
			held += is(lo <= away && away <= hi)
		}
		if part := float64(held) / draws; part < 0.87 || part > 0.99 {
			t.Errorf("%.3f of intervals hold %g", part, away)
		}
	}
}

func TestTheMetricIsThatOfSmallDifferences(t *testing.T) {
	for _, from := range append([]colour.Lab{{L: 40, A: 20, B: -60}}, heads...) {
		for _, by := range []vector{{0.01, 0, 0}, {0, 0.01, 0}, {0, 0, -0.01}, {0.01, -0.02, 0.015}} {
			want := seen{from, by}.difference().Total
			if got := math.Sqrt(metric(from).within(by)); math.Abs(got/want-1) > 0.01 {
				t.Errorf("from %+v by %v: %.6f, want %.6f", from, by, got, want)
			}
		}
	}
}

// What readings know of one photo's whole variance must not be lost in what they do not know of its parts.
func TestDrawsKeepToTheVarianceOfAPhoto(t *testing.T) {
	f := &fitted{solution: &solution{spreads: priorSpreads()}}
	of := func(theta []float64, axis int) float64 {
		sum := 0.0
		for _, c := range []int{atWobble, atPlantDay, atHead} {
			sum += math.Exp(2 * theta[components[c].first+axis])
		}
		return sum
	}
	before := of(f.theta, 1)
	variance := func(c int) float64 { return math.Exp(2 * f.theta[components[c].first+1]) }
	// A move that leaves the sum as it is, to the first order.
	move := make([]float64, parameterCount)
	move[components[atWobble].first+1] = 1.5 / variance(atWobble)
	move[components[atHead].first+1] = -1.5 / variance(atHead)
	for _, sign := range []float64{1, -1} {
		bent := make([]float64, len(move))
		for i, d := range move {
			bent[i] = sign * d
		}
		if got := of(f.bent(bent), 1); math.Abs(got/before-1) > 1e-9 {
			t.Errorf("the variance of a photo went from %.4f to %.4f", before, got)
		}
	}
}
