package forecast

import "math"

// curve is how the stems of one flush of one stock open over a season: the share that has opened by a day.
//
// It rises as the distribution of Kumaraswamy (1980, Journal of Hydrology 46:79-88), which is near to a beta
// distribution and has a closed form,
//
//	F(x) = 1 - (1-x^a)^b,  x = (day - onset) / length
//
// but for a small share that opens at any time: stragglers.
type curve struct {
	onset  float64 // in days of the season's clock
	length float64 // in days
	a, b   float64
}

// stragglers is the share of a flush that keeps to no curve: from half a flush's length before it to a whole one after it.
const stragglers = 0.02

// share has opened by the end of a day; 0 before everything and 1 after it.
func (c curve) share(day float64) float64 { return c.part((day - c.onset) / c.length) }

// part has opened by a part of the flush's length.
func (c curve) part(x float64) float64 {
	return (1-stragglers)*c.regular(x) + stragglers*min(max((x+0.5)/2.5, 0), 1)
}

// regular is the share without stragglers at a part of the flush's length.
func (c curve) regular(x float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	}
	// As 1 - (1-x^a)^b, in half the time of two powers.
	return -math.Expm1(c.b * math.Log1p(-math.Exp(c.a*math.Log(x))))
}
