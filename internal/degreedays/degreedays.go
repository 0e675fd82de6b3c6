// Package degreedays turns a day's lowest and highest temperature into the warmth by which plants grow.
//
// A degree-day is one degree above the lower threshold for a day. Temperatures and thresholds may be in degrees Celsius
// or Fahrenheit, all in the same; degree-days are then of the same degrees.
package degreedays

import (
	"fmt"
	"math"

	"corymb/internal/crop"
)

// Method is how the temperature between a day's lowest and highest is thought of.
type Method string

const (
	// Average takes the mean of the two for the whole day: max(0, mean - lower), the highest (and a lowest above it) cut
	// to the upper threshold first. McMaster and Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, method 1.
	Average Method = "average"
	// Sine takes one sine wave through both: Baskerville and Emin 1969, Ecology 50:514-517; a horizontal cut-off as in
	// Zalom et al. 1983, Degree-days: the calculation and use of heat units in pest management, UC leaflet 21373.
	Sine Method = "sine"
)

// ParseMethod reads a method's name.
func ParseMethod(text string) (Method, error) {
	switch m := Method(text); m {
	case Average, Sine:
		return m, nil
	default:
		return "", fmt.Errorf("the method %q is not known: use sine or average", text)
	}
}

// Thresholds are the temperatures between which warmth counts.
type Thresholds struct {
	Lower float64
	Upper float64 // warmth above it counts as if it were this warm; +Inf where there is none
}

// NewThresholds refuses thresholds between which nothing lies.
func NewThresholds(lower, upper float64) (Thresholds, error) {
	switch {
	case math.IsNaN(lower) || math.IsInf(lower, 0) || math.IsNaN(upper):
		return Thresholds{}, fmt.Errorf("the thresholds %v and %v are no temperatures: give numbers", lower, upper)
	case upper <= lower:
		return Thresholds{}, fmt.Errorf("the upper threshold %v is not above the lower, %v: give a higher one, or none", upper, lower)
	}
	return Thresholds{Lower: lower, Upper: upper}, nil
}

// Of gives the degree-days of one day. It is 0 or more, and at most upper less lower.
func (t Thresholds) Of(day crop.Weather, method Method) float64 {
	if method == Average {
		mean := (math.Min(day.Min, t.Upper) + math.Min(day.Max, t.Upper)) / 2
		return math.Max(0, mean-t.Lower)
	}
	// The difference of two nearly equal areas may come out a rounding below zero.
	return math.Max(0, sineAbove(day, t.Lower)-sineAbove(day, t.Upper))
}

// sineAbove is the area between a temperature and the part of the day's sine wave above it, in degrees times days.
func sineAbove(day crop.Weather, threshold float64) float64 {
	mean, half := (day.Max+day.Min)/2, (day.Max-day.Min)/2
	switch {
	case day.Min >= threshold:
		return mean - threshold
	case day.Max <= threshold:
		return 0
	}
	crossing := math.Asin((threshold - mean) / half)
	return ((mean-threshold)*(math.Pi/2-crossing) + half*math.Cos(crossing)) / math.Pi
}
