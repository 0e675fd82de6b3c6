package stats

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"
)

// Quantile of values, which it sorts; linear between order statistics (type 7 of Hyndman and Fan
// 1996, American Statistician 50:361-365).
func Quantile(values []float64, p float64) float64 {
	sort.Float64s(values)
	at := p * float64(len(values)-1)
	i := min(int(at), len(values)-1)
	if i == len(values)-1 {
		return values[i]
	}
	return values[i] + (at-float64(i))*(values[i+1]-values[i])
}

// WeightedQuantile is the value at which the weights of all values up to it pass p, linear between the
// middles of their steps. Weights sum to 1.
func WeightedQuantile(values, weights []float64, p float64) float64 {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(a, b int) bool { return values[order[a]] < values[order[b]] })
	below, lastMiddle, last := 0.0, 0.0, values[order[0]]
	for _, i := range order {
		middle := below + weights[i]/2
		if middle >= p {
			if middle == lastMiddle || i == order[0] {
				return values[i]
			}
			return last + (values[i]-last)*(p-lastMiddle)/(middle-lastMiddle)
		}
		below += weights[i]
		lastMiddle, last = middle, values[i]
	}
	return last
}

// NormalPoints are a Gauss-Hermite rule for the mean of a function of a standard normal.
type NormalPoints struct {
	At, Weight []float64
}

// NormalRule has n points.
func NormalRule(n int) NormalPoints {
	r := NormalPoints{At: make([]float64, n), Weight: make([]float64, n)}
	quad.Hermite{}.FixedLocations(r.At, r.Weight, math.Inf(-1), math.Inf(1))
	for q := range r.At {
		r.At[q] *= math.Sqrt2
		r.Weight[q] /= math.SqrtPi
	}
	return r
}

// partOfTrapezoid is the t in [0, 1] with a t + (b-a) t^2/2 = want, in the form that does not cancel.
func partOfTrapezoid(a, b, want float64) float64 {
	root := math.Sqrt(max(0, a*a+2*(b-a)*want))
	if a+root == 0 {
		return 0
	}
	return min(1, 2*want/(a+root))
}
