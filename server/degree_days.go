package main

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"

	"corymb/internal/crop"
	"corymb/internal/degreedays"
	"corymb/internal/sheets"
)

// degreeDaysCommand prints the warmth of each day of a weather file, and its sum from the first day on.
func degreeDaysCommand(_ context.Context, args []string, out io.Writer) error {
	set := flags("degree-days")
	path := set.String("weather", "", "the `file` with the columns date, tmin and tmax")
	lower := set.Float64("lower", math.NaN(), "the temperature below which nothing grows, in the degrees of the file")
	upper := set.Float64("upper", math.Inf(1), "the temperature above which no more grows; none if it is not given")
	method := set.String("method", string(degreedays.Sine), "sine: a sine wave through each day's two temperatures; average: their mean")
	format := set.String("format", "csv", "how to print it; only csv so far")
	for _, none := range []string{"lower", "upper"} {
		set.Lookup(none).DefValue = "0" // -h tells no default of 0, and that of these is no number
	}
	if err := parse(set, args); err != nil {
		return err
	}
	switch {
	case *format != "csv":
		return wrongUsage(set, "-format %s is not known: use csv", *format)
	case *path == "":
		return wrongUsage(set, "name the weather: -weather weather.csv")
	case math.IsNaN(*lower):
		return wrongUsage(set, "say with -lower below which temperature nothing grows")
	}
	how, err := degreedays.ParseMethod(*method)
	if err != nil {
		return wrongUsage(set, "%v", err)
	}
	between, err := degreedays.NewThresholds(*lower, *upper)
	if err != nil {
		return wrongUsage(set, "%v", err)
	}
	weather, err := readWeather(*path)
	if err != nil {
		return err
	}
	tellOfWeather(os.Stderr, weather)
	return printDegreeDays(out, weather.Days, between, how)
}

func readWeather(path string) (sheets.Weather, error) {
	file, err := os.Open(path)
	if err != nil {
		return sheets.Weather{}, fmt.Errorf("opening the weather: %w", err)
	}
	defer file.Close()
	return sheets.ReadWeather(sheets.Source{Name: path, Reader: file})
}

// tellOfWeather says what is odd about a file that was taken.
func tellOfWeather(w io.Writer, weather sheets.Weather) {
	tellIgnored(w, weather.Ignored)
	if weather.OutOfOrder {
		fmt.Fprintln(w, "corymb: the days were not in order; they are printed by date")
	}
	for _, day := range weather.Empty {
		fmt.Fprintf(w, "corymb: %s lacks a temperature, so its warmth is not known\n", day)
	}
	for _, gap := range crop.WeatherGaps(weather.Days) {
		fmt.Fprintf(w, "corymb: nothing is known from %s to %s; the sum goes on without these days and is too low from there on\n", gap.First, gap.Last)
	}
}

// printDegreeDays prints every figure with as many digits as give it back exactly.
func printDegreeDays(out io.Writer, days []crop.Weather, between degreedays.Thresholds, method degreedays.Method) error {
	exact := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	w := csv.NewWriter(out)
	rows := [][]string{{"date", "degree_days", "sum"}}
	sum := 0.0
	for _, day := range days {
		warmth := between.Of(day, method)
		sum += warmth
		rows = append(rows, []string{string(day.Date), exact(warmth), exact(sum)})
	}
	if err := w.WriteAll(rows); err != nil {
		return fmt.Errorf("printing the degree-days: %w", err)
	}
	return nil
}
