package demo

import (
	"fmt"
	"math"
	"math/rand/v2"

	"corymb/internal/changelog"
	"corymb/internal/crop"
	"corymb/internal/farm"
)

// The made-up climate, in degrees Celsius: days are as warm as the middle of the year's wave, and the nights and noons so
// much colder and warmer; one day takes after the one before.
const (
	yearMean, yearSwing = 10.5, 9.5
	dayHalf             = 5.5
	dayNoise, dayAlike  = 2.2, 0.7
	warmest             = 202 // the day of the year
)

// tellWeather tells the lowest and highest temperature of the growing months, a month at a time. A season that is late is
// one whose warmth is: its months are no warmer or colder than they should be, only their days are. It draws from a source
// of its own.
func (g *grower) tellWeather() {
	rnd := rand.New(rand.NewPCG(seed, 5))
	first, last := g.seasons()
	for s := first; s <= last; s++ {
		for month := 2; month <= 10; month++ {
			start := onDay(s, fmt.Sprintf("%02d-01", month))
			next := onDay(s, fmt.Sprintf("%02d-01", month+1))
			var told []changelog.Fact
			for i, away := range daysAway(rnd, start.DaysTo(next)) {
				told = append(told, farm.WeatherFacts(weatherOn(start.Add(i), g.weather(s).late, away))...)
			}
			g.mark(next, told)
		}
	}
}

// daysAway are how much warmer so many days are than they should be, which comes to nothing together.
func daysAway(rnd *rand.Rand, days int) []float64 {
	away := make([]float64, days)
	sum := 0.0
	for i := range away {
		away[i] = dayNoise * rnd.NormFloat64()
		if i > 0 {
			away[i] += dayAlike * away[i-1]
		}
		sum += away[i]
	}
	for i := range away {
		away[i] -= sum / float64(days)
	}
	return away
}

// weatherOn is a day's weather in a season that is so many days late, so much warmer than it should be.
func weatherOn(day crop.Date, late int, warmer float64) crop.Weather {
	ofYear := onDay(crop.Season(day.Year()), "01-01").DaysTo(day) - late
	mean := yearMean + yearSwing*math.Cos(2*math.Pi*float64(ofYear-warmest)/365.25) + warmer
	tenths := func(v float64) float64 { return math.Round(v*10) / 10 }
	return crop.Weather{Date: day, Min: tenths(mean - dayHalf), Max: tenths(mean + dayHalf)}
}
