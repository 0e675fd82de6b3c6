package demo

import (
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
	dayNoise, dayAlike  = 1.5, 0.4
	warmest             = 202 // the day of the year
)

// tellWeather tells the lowest and highest temperature of the growing months, a month at a time. A season that is late is
// one whose warmth is. It draws from a source of its own.
func (g *grower) tellWeather() {
	rnd := rand.New(rand.NewPCG(seed, 5))
	first, last := g.seasons()
	for s := first; s <= last; s++ {
		away := 0.0
		var month []changelog.Fact
		for day := onDay(s, "02-01"); day <= onDay(s, "10-31"); day = day.Add(1) {
			away = dayAlike*away + dayNoise*rnd.NormFloat64()
			month = append(month, farm.WeatherFacts(weatherOn(day, g.weather(s).late, away))...)
			if next := day.Add(1); string(next)[8:] == "01" {
				g.mark(next, month)
				month = nil
			}
		}
	}
}

// weatherOn is a day's weather in a season that is so many days late, so much warmer than it should be.
func weatherOn(day crop.Date, late int, warmer float64) crop.Weather {
	ofYear := onDay(crop.Season(day.Year()), "01-01").DaysTo(day) - late
	mean := yearMean + yearSwing*math.Cos(2*math.Pi*float64(ofYear-warmest)/365.25) + warmer
	tenths := func(v float64) float64 { return math.Round(v*10) / 10 }
	return crop.Weather{Date: day, Min: tenths(mean - dayHalf), Max: tenths(mean + dayHalf)}
}
