package main

import (
	"flag"
	"fmt"
	"io"

	"corymb/internal/crop"
	"corymb/internal/degreedays"
	"corymb/internal/forecast"
)

// warmthFlags are a weather file and how its warmth is reckoned.
type warmthFlags struct {
	path, method string
	lower, upper float64
}

func readWarmthFlags(set *flag.FlagSet) *warmthFlags {
	var w warmthFlags
	set.StringVar(&w.path, "weather", "", "the `file` with the columns date, tmin and tmax; without it flushes go by days alone")
	set.Float64Var(&w.lower, "lower", crop.UsualWarmth.Lower, "the temperature below which nothing grows, in the degrees of the weather file")
	set.Float64Var(&w.upper, "upper", crop.UsualWarmth.Upper, "the temperature above which no more grows")
	set.StringVar(&w.method, "method", string(crop.UsualWarmth.Method), "sine: a sine wave through each day's two temperatures; average: their mean")
	return &w
}

// checked tells whether warmth can be reckoned so.
func (w *warmthFlags) checked(set *flag.FlagSet) error {
	if w.path == "" {
		return w.unused(set)
	}
	if _, err := degreedays.ParseMethod(w.method); err != nil {
		return wrongUsage(set, "%v", err)
	}
	if _, err := degreedays.NewThresholds(w.lower, w.upper); err != nil {
		return wrongUsage(set, "%v", err)
	}
	return nil
}

// unused refuses to reckon warmth without any weather.
func (w *warmthFlags) unused(set *flag.FlagSet) (err error) {
	set.Visit(func(given *flag.Flag) {
		if err == nil && (given.Name == "lower" || given.Name == "upper" || given.Name == "method") {
			err = wrongUsage(set, "-%s says how the weather is reckoned: name it too, -weather weather.csv", given.Name)
		}
	})
	return err
}

// hottestCelsius is warmer than any air was (World Meteorological Organization, from memory: 56.7).
const hottestCelsius = 57

// addTo puts the weather up to a day into a farm.
func (w *warmthFlags) addTo(farm *crop.Farm, asOf crop.Date, told io.Writer) error {
	if w.path == "" {
		return nil
	}
	weather, err := readWeather(w.path)
	if err != nil {
		return err
	}
	tellIgnored(told, weather.Ignored)
	for _, day := range weather.Days {
		if day.Date > asOf {
			break
		}
		if day.Max > hottestCelsius && w.upper <= crop.UsualWarmth.Upper {
			return fmt.Errorf("reading %s: %v on %s is no temperature in Celsius; give the thresholds in the degrees of the file, like -lower 50 -upper 86", w.path, day.Max, day.Date)
		}
		farm.Ahead.Weather[day.Date] = day
	}
	farm.Ahead.Warmth.Lower, farm.Ahead.Warmth.Upper, farm.Ahead.Warmth.Method = w.lower, w.upper, crop.WarmMethod(w.method)
	return nil
}

// tellOfUse says what a forecast made of the weather that it was given.
func (w *warmthFlags) tellOfUse(told io.Writer, warmth *forecast.Warmth) {
	switch {
	case w.path == "":
	case warmth == nil:
		fmt.Fprintf(told, "corymb: %s tells too little to go by, so flushes go by days alone: it takes two thirds of the days of a season before, and of this one so far\n", w.path)
	default:
		for _, gap := range warmth.Filled {
			fmt.Fprintf(told, "corymb: no temperatures are known from %s to %s; the usual warmth of these days stands in\n", gap.First, gap.Last)
		}
	}
}
