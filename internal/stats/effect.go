package stats

import "math"

// Effect says which parameters the standard deviation of groups' effects hangs on. The zero Effect is none:
// the model is then a plain regression.
type Effect struct {
	of    [2]int
	count int
}

// LogSD is an effect whose standard deviation has its logarithm as a parameter.
func LogSD(parameter int) Effect { return Effect{of: [2]int{parameter}, count: 1} }

// LogSDOfBoth is an effect of which two parameters tell: t, the logarithm of the standard deviation of effect
// and observation together, and c, that of the ratio of the effect's to the observation's own:
//
//	log sd = t + c - log(1 + exp(2c))/2.
//
// Where little is known but how much both vary together, t and c are, and the two standard deviations are
// not, near to being independent.
func LogSDOfBoth(t, c int) Effect { return Effect{of: [2]int{t, c}, count: 2} }

func (e Effect) none() bool { return e.count == 0 }

func (e Effect) parameters() []int { return e.of[:e.count] }

// effectAt is an effect's standard deviation in force, and the derivatives of its logarithm.
type effectAt struct {
	sd    float64
	slope [2]float64
	bend  float64 // the second by the second parameter; all others are 0
}

func (e Effect) at(x []float64) effectAt {
	switch e.count {
	case 0:
		return effectAt{}
	case 1:
		return effectAt{sd: math.Exp(x[e.of[0]]), slope: [2]float64{1, 0}}
	}
	share := shareOfEffect(x[e.of[1]])
	return effectAt{
		sd: math.Exp(x[e.of[0]]) * math.Sqrt(share), slope: [2]float64{1, 1 - share}, bend: -2 * share * (1 - share),
	}
}

// SD is the effect's standard deviation at a point.
func (e Effect) SD(x []float64) float64 { return e.at(x).sd }

// sizeAt is the log of the size of counts (NB2) whose squared coefficient of variation beyond Poisson's, 1/size,
// is the observation's own variance in LogSDOfBoth, times exp(-deviation); with the derivatives by t and c, all
// second ones but by c being 0. Without such an effect the deviation itself is the log size.
func (e Effect) sizeAt(x []float64, deviation float64) (logSize float64, slope [2]float64, bend float64) {
	if e.count < 2 {
		return deviation, slope, 0
	}
	share := shareOfEffect(x[e.of[1]])
	return deviation - 2*x[e.of[0]] - math.Log1p(-share), [2]float64{-2, 2 * share}, 4 * share * (1 - share)
}

// LogSize is sizeAt's, at a point.
func (e Effect) LogSize(x []float64, deviation float64) float64 {
	logSize, _, _ := e.sizeAt(x, deviation)
	return logSize
}

// shareOfEffect in the variance of both: exp(2c)/(1 + exp(2c)).
func shareOfEffect(c float64) float64 { return Logistic(2 * c) }
