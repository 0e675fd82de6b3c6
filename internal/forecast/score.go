package forecast

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"
)

// CRPS is the continuous ranked probability score of equally likely draws, which it sorts, against what came: the mean
// distance from it less half the mean distance of two draws, in stems. 0 is best; of a single draw it is the plain
// error (Gneiting and Raftery 2007, Journal of the American Statistical Association 102:359-378, equation 21).
func CRPS(draws []float64, came float64) float64 {
	slices.Sort(draws)
	n := float64(len(draws))
	apart, between := 0.0, 0.0
	for i, draw := range draws {
		apart += math.Abs(draw - came)
		between += draw * (2*float64(i) + 1 - n)
	}
	return apart/n - between/(n*n)
}

// NegativeBinomialCRPS is the same score of a negative binomial in its second form (variance mean + mean^2/size), in
// closed form (Wei and Held 2014, TEST 23:787-805; as in Jordan, Krueger and Lerch 2019, Journal of Statistical
// Software 90(12), whose p is size/(size+mean)):
//
//	y (2 F_r(y) - 1) - r (1-p)/p^2 [p (2 F_{r+1}(y-1) - 1) + 2F1(r+1, 1/2; 2; -4 (1-p)/p^2)]
func NegativeBinomialCRPS(mean, size float64, came int) float64 {
	if mean == 0 {
		return float64(came)
	}
	p := size / (size + mean)
	odds := (1 - p) / (p * p)
	y := float64(came)
	return y*(2*negativeBinomialCDF(came, size, p)-1) -
		size*odds*(p*(2*negativeBinomialCDF(came-1, size+1, p)-1)+hypergeometric(size+1, 4*odds))
}

// hypergeometric is 2F1(a, 1/2; 2; -x) for a and x above 0, by Euler's integral (DLMF 15.6.1) with its t as the square of
// a sine and that angle's tangent as e^v:
//
//	4/pi times the integral over all v of e^v (1+e^2v)^-2 ((1+e^2v) / (1+(1+x) e^2v))^a
//
// The integrand is smooth and falls off on both sides, so that the trapezoid rule gives it to nearly all digits, where
// series cancel (large a) or do not converge (large x).
func hypergeometric(a, x float64) float64 {
	const step, far = 0.05, 40
	sum := 0.0
	for v := -far - math.Log1p(x)/2; v < far/3; v += step {
		square := math.Exp(2 * v)
		sum += math.Exp(v + (a-2)*math.Log1p(square) - a*math.Log1p((1+x)*square))
	}
	return 4 / math.Pi * step * sum
}

// negativeBinomialCDF is the chance of at most y failures before the size-th success of chance p.
func negativeBinomialCDF(y int, size, p float64) float64 {
	if y < 0 {
		return 0
	}
	return mathext.RegIncBeta(size, float64(y)+1, p)
}

// PIT is where what came lies in equally likely draws, from 0 to 1, at random within a tie: uniform over forecasts whose
// draws are as wide as they should be (Czado, Gneiting and Held 2009, Biometrics 65:1254-1261). At is uniform on 0 to 1.
func PIT(draws []float64, came, at float64) float64 {
	below, same := 0, 0
	for _, draw := range draws {
		switch {
		case draw < came:
			below++
		case draw == came:
			same++
		}
	}
	// What came counts as one draw more: else it could lie outside all of them with chance 0.
	return (float64(below) + at*float64(same+1)) / float64(len(draws)+1)
}
