package stats

import (
	"math"
	"slices"
)

// smoothWeights turns log importance ratios into weights that sum to 1, the greatest of them replaced by
// quantiles of a generalised Pareto distribution fitted to them, and returns its shape k: above 0.7 the
// weights are not to be trusted (Vehtari, Simpson, Gelman, Yao and Gabry 2024, Journal of Machine Learning
// Research 25(72):1-58, from memory).
func smoothWeights(logRatio []float64) (weights []float64, k float64) {
	n := len(logRatio)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		switch {
		case logRatio[a] < logRatio[b]:
			return -1
		case logRatio[a] > logRatio[b]:
			return 1
		}
		return a - b
	})
	top := logRatio[order[n-1]]
	weights = make([]float64, n)
	for i, v := range logRatio {
		weights[i] = math.Exp(v - top)
	}
	k = smoothTail(weights, order)
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	for i := range weights {
		weights[i] /= sum
	}
	return weights, k
}

// leastTail is the fewest ratios that a tail can be fitted to.
const leastTail = 5

func smoothTail(weights []float64, order []int) float64 {
	n := len(order)
	tail := min(n/5, int(math.Ceil(3*math.Sqrt(float64(n)))))
	if tail < leastTail {
		return math.Inf(1)
	}
	cut := weights[order[n-tail-1]]
	over := make([]float64, tail)
	for i := range over {
		over[i] = weights[order[n-tail+i]] - cut
	}
	if over[tail-1] <= 1e-12 {
		return 0 // all alike: nothing to smooth
	}
	k, scale := fitPareto(over)
	if math.IsNaN(k) {
		return math.Inf(1)
	}
	for i := range over {
		p := (float64(i) + 0.5) / float64(tail)
		weights[order[n-tail+i]] = min(1, cut+paretoQuantile(p, k, scale))
	}
	return k
}

// fitPareto estimates shape and scale of exceedances in ascending order (Zhang and Stephens 2009,
// Technometrics 51:316-325), the shape drawn to 1/2 as by ten observations, as Vehtari et al. do.
func fitPareto(x []float64) (k, scale float64) {
	n := len(x)
	candidates := 30 + int(math.Sqrt(float64(n)))
	quarter := max(x[int(float64(n)/4+0.5)-1], math.SmallestNonzeroFloat64*1e10)
	theta, fit := make([]float64, candidates), make([]float64, candidates)
	for j := range theta {
		theta[j] = 1/x[n-1] + (1-math.Sqrt(float64(candidates)/(float64(j)+0.5)))/(3*quarter)
		shape := meanLog(theta[j], x)
		fit[j] = float64(n) * (math.Log(-theta[j]/shape) - shape - 1)
	}
	mean := 0.0
	for j := range theta {
		sum := 0.0
		for _, f := range fit {
			sum += math.Exp(f - fit[j])
		}
		mean += theta[j] / sum
	}
	shape := meanLog(mean, x)
	scale = -shape / mean
	return (shape*float64(n) + 5) / (float64(n) + 10), scale
}

func meanLog(theta float64, x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += math.Log1p(-theta * v)
	}
	return sum / float64(len(x))
}

func paretoQuantile(p, k, scale float64) float64 {
	if math.Abs(k) < 1e-12 {
		return -scale * math.Log1p(-p)
	}
	return scale * math.Expm1(-k*math.Log1p(-p)) / k
}

// effective number of draws that weights are worth (Kong 1992, University of Chicago, Department of
// Statistics, technical report 348).
func effective(weights []float64) float64 {
	sum := 0.0
	for _, w := range weights {
		sum += w * w
	}
	return 1 / sum
}
