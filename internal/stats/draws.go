package stats

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// NormalDraws are n draws from a normal of mean 0, the second half the mirror image of the first so
// that their mean is exactly 0. The same seed gives the same draws.
func NormalDraws(cov *mat.SymDense, n int, seed uint64) ([][]float64, error) {
	var chol mat.Cholesky
	if !chol.Factorize(cov) {
		return nil, fmt.Errorf("draw from a normal: the covariance is not positive definite")
	}
	var lower mat.TriDense
	chol.LTo(&lower)
	p := cov.SymmetricDim()
	source := rand.New(rand.NewPCG(seed, 0))
	draws := make([][]float64, n)
	z := mat.NewVecDense(p, nil)
	for i := range draws {
		draws[i] = make([]float64, p)
		if i >= (n+1)/2 {
			for k, v := range draws[i-(n+1)/2] {
				draws[i][k] = -v
			}
			continue
		}
		for k := range p {
			z.SetVec(k, source.NormFloat64())
		}
		mat.NewVecDense(p, draws[i]).MulVec(&lower, z)
	}
	return draws, nil
}

// strata are the evenly spaced probabilities at which TScales takes its quantiles; more would cost
// time and move a 5 % point by less than the draws' own noise.
const strata = 400

// TScales are n factors that turn draws of a multivariate normal into draws of a multivariate t:
// sqrt(df/chi-square), stratified, in a seeded order (Kotz and Nadarajah 2004, Multivariate t
// Distributions, section 1.1).
func TScales(df float64, n int, seed uint64) []float64 {
	chi := distuv.ChiSquared{K: df}
	scales := make([]float64, n)
	for i := range scales {
		if i < strata {
			scales[i] = math.Sqrt(df / chi.Quantile((float64(i)+0.5)/strata))
		} else {
			scales[i] = scales[i-strata]
		}
	}
	source := rand.New(rand.NewPCG(seed, 1))
	source.Shuffle(n, func(i, j int) { scales[i], scales[j] = scales[j], scales[i] })
	return scales
}

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
