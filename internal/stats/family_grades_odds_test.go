package stats

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// gradesAndPools are observations of four categories: single units and pools, with and without a spread of their own.
func gradesAndPools(thresholds []float64, logSD float64) *Ordered {
	source := rand.New(rand.NewPCG(seed, 21))
	f := &Ordered{First: 0, EffectSD: 3}
	for i := range 40 {
		count := make([]float64, 4)
		for range 1 + i%5 {
			count[source.IntN(4)]++
		}
		f.Count = append(f.Count, count)
		f.Pooled = append(f.Pooled, []float64{0, 0.9}[i%2])
		f.Spread = append(f.Spread, spreadIf(i%4 == 1, 4))
	}
	f.Set(append(slices.Clone(thresholds), logSD, 0.4))
	return f
}

// An exponential for every cut and unit, which is how the probabilities are defined.
func probsByEach(f *Ordered, eta float64) (list [4]float64) {
	copy(list[:], f.between)
	for j, theta := range f.theta {
		e := math.Exp(-math.Abs(theta - eta))
		near, far := 1/(1+e), e/(1+e)
		if theta < eta {
			near, far = far, near
		}
		list[j] *= near
		list[j+1] *= far
	}
	return list
}

func logDensityByEach(f *Ordered, i int, eta float64) float64 {
	sum := 0.0
	if f.pooled(i) == 0 {
		for j, theta := range f.theta {
			u := theta - eta
			sum += f.Count[i][j]*f.within[j] - (f.Count[i][j]+f.Count[i][j+1])*math.Log1p(math.Exp(-math.Abs(u)))
			sum += f.Count[i][j]*min(u, 0) - f.Count[i][j+1]*max(u, 0)
		}
		return sum
	}
	prob, apart := [4]float64{}, f.apart(i)
	for q, t := range f.pool.rule.At {
		for j, p := range probsByEach(f, eta+apart*t) {
			prob[j] += f.pool.rule.Weight[q] * p
		}
	}
	for j, n := range f.Count[i] {
		if n > 0 {
			sum += n * math.Log(prob[j])
		}
	}
	return sum
}

func TestGradesFromOneExponentialAreThoseFromOneForEachCutAndUnit(t *testing.T) {
	for _, of := range []struct {
		name       string
		thresholds []float64 // the first, and logs of the spacings
		logSD      float64
	}{
		{"as on farms", []float64{-1.2, 0.3, 0.5}, -0.3},
		{"plants that differ enormously", []float64{-1.2, 0.3, 0.5}, 4},
		{"one that has no mean left", []float64{0, 0, 0}, 6},
		{"a threshold far out", []float64{-290, 5.9, 0.5}, 0},
		{"all of them farther", []float64{-500, 6.5, 0.5}, 0},
	} {
		f := gradesAndPools(of.thresholds, of.logSD)
		for _, eta := range []float64{0, 0.7, -3, 40, -149, 151, -299, 301, 500, -640} {
			got := make([]float64, 4)
			f.Probs(got, eta)
			for j, want := range probsByEach(f, eta) {
				if math.Abs(got[j]-want) > 1e-12*want+1e-290 {
					t.Errorf("%s, category %d at %g: %g, want %g", of.name, j, eta, got[j], want)
				}
			}
			for i := range f.Count {
				want := logDensityByEach(f, i, eta)
				if got := f.LogDensity(i, eta); want > -noFarther && math.Abs(got-want) > 1e-11*(1+math.Abs(want)) {
					t.Errorf("%s, observation %d at %g: %.15g, want %.15g", of.name, i, eta, got, want)
				}
				if first, second := f.Slope(i, eta); math.IsNaN(first) || second > 1e-9 && f.pooled(i) == 0 {
					t.Errorf("%s, observation %d at %g: slopes %g and %g", of.name, i, eta, first, second)
				}
			}
		}
	}
}

func TestUnitsOfAPoolFollowTheParametersInForce(t *testing.T) {
	f := gradesAndPools([]float64{-1.2, 0.3, 0.5}, -0.3)
	for _, logSD := range []float64{-0.3, 0.5, -0.3} {
		f.Set([]float64{-1.2, 0.3, 0.5, logSD, 0.4})
		for i := range f.Count {
			if got, want := f.LogDensity(i, 0.2), logDensityByEach(f, i, 0.2); math.Abs(got-want) > 1e-11 {
				t.Errorf("observation %d with log sd %g: %.15g, want %.15g", i, logSD, got, want)
			}
		}
	}
}

// BenchmarkGradesOfUnitsAndPools says how many times as long an exponential for each cut and unit takes:
//
//	go test -run '^$' -bench GradesOfUnitsAndPools ./internal/stats
func BenchmarkGradesOfUnitsAndPools(b *testing.B) {
	f := gradesAndPools([]float64{-1.2, 0.3, 0.5}, -0.3)
	all := func(of func(i int, eta float64) float64) time.Duration {
		begun := time.Now()
		for k := range 5 { // a quadrature's nodes
			for i := range f.Count {
				of(i, 0.4*float64(k))
			}
		}
		return time.Since(begun)
	}
	var shared, each time.Duration
	b.ReportAllocs()
	for b.Loop() {
		f.Set(f.x)
		shared += all(f.LogDensity)
		b.StopTimer()
		each += all(func(i int, eta float64) float64 { return logDensityByEach(f, i, eta) })
		b.StartTimer()
	}
	b.ReportMetric(float64(each)/float64(shared), "times-by-each")
}
