// Package stats is the numerical core of the models: modes by Newton's method, the negative
// binomial, the beta-binomial, the cumulative logit, their covariances, quadrature and draws. It
// knows nothing of flowers.
package stats

import (
	"fmt"
	"math"
)

// Normal is an independent normal prior on one parameter.
type Normal struct {
	Mean, SD float64
}

// Flat is the prior that says nothing: with Flat on every parameter, a mode is plain maximum
// likelihood.
var Flat = Normal{SD: math.Inf(1)}

// logDensity leaves out the constant, so that Flat adds zero.
func (n Normal) logDensity(x float64) float64 {
	z := (x - n.Mean) / n.SD
	return -z * z / 2
}

// slope is the derivative of logDensity; its own derivative is -1/SD^2.
func (n Normal) slope(x float64) float64 { return (n.Mean - x) / (n.SD * n.SD) }

// priorsFor checks a list of priors against the number of parameters; nil is flat throughout.
func priorsFor(prior []Normal, parameters int) ([]Normal, error) {
	if prior == nil {
		prior = make([]Normal, parameters)
		for i := range prior {
			prior[i] = Flat
		}
	}
	if len(prior) != parameters {
		return nil, fmt.Errorf("%d priors for %d parameters: give one for each, or none at all", len(prior), parameters)
	}
	for i, p := range prior {
		if !(p.SD > 0) || math.IsNaN(p.Mean) {
			return nil, fmt.Errorf("prior %d is normal(%g, %g): its standard deviation must be above 0 (stats.Flat says nothing)", i, p.Mean, p.SD)
		}
	}
	return prior, nil
}

// checkRows refuses a design whose rows differ in length or hold anything but finite numbers.
func checkRows(x [][]float64, rows int) (columns int, err error) {
	if len(x) != rows {
		return 0, fmt.Errorf("%d rows of covariates for %d observations: give one for each", len(x), rows)
	}
	for i, row := range x {
		if len(row) != len(x[0]) {
			return 0, fmt.Errorf("row %d holds %d covariates and row 0 holds %d: give all the same number", i, len(row), len(x[0]))
		}
		for _, v := range row {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return 0, fmt.Errorf("row %d holds a covariate that is not a finite number", i)
			}
		}
	}
	if rows == 0 {
		return 0, nil
	}
	return len(x[0]), nil
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// columnScales is the largest absolute value of each column, 1 where the column is all zero.
func columnScales(x [][]float64, columns int) []float64 {
	scale := make([]float64, columns)
	for _, row := range x {
		for j, v := range row {
			scale[j] = max(scale[j], math.Abs(v))
		}
	}
	for j, v := range scale {
		if v == 0 {
			scale[j] = 1
		}
	}
	return scale
}
