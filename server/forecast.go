package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"time"

	"corymb/internal/crop"
	"corymb/internal/forecast"
	"corymb/internal/sheets"
)

// forecastGCPercent: draws leave much behind and little stands, so at the usual 100 a third of a small farm's time goes into
// collecting garbage of a few megabytes.
const forecastGCPercent = 400

// forecastCommand prints what is still to come in the season of a day, from two spreadsheets as they were that evening, and
// where it is given the weather up to it.
func forecastCommand(_ context.Context, args []string, out io.Writer) error {
	set := flags("forecast")
	files, warmth := spreadsheetFlags(set), readWarmthFlags(set)
	day := set.String("asof", "", "the `day` on whose evening the question is put, like 2026-05-28; today if it is not given")
	format := set.String("format", "json", "how to print it; only json so far")
	if err := parse(set, args); err != nil {
		return err
	}
	if *format != "json" {
		return wrongUsage(set, "-format %s is not known: use json", *format)
	}
	if err := files.named(set); err != nil {
		return err
	}
	if err := warmth.checked(set); err != nil {
		return err
	}
	asOf := crop.DateOf(time.Now())
	if *day != "" {
		var err error
		if asOf, err = crop.ParseDate(*day); err != nil {
			return wrongUsage(set, "-asof %v", err)
		}
	}
	defer debug.SetGCPercent(debug.SetGCPercent(forecastGCPercent))
	contents, err := files.read(sheets.UpTo(asOf))
	if err != nil {
		return err
	}
	if err := warmth.addTo(&contents.Farm, os.Stderr); err != nil {
		return err
	}
	tellOfDoubts(os.Stderr, files.cuts, forecast.DoubtsOf(contents.Farm, asOf))
	forecast, err := forecast.Of(contents.Farm, asOf)
	if err != nil {
		return fmt.Errorf("forecasting from %s and %s: %w", files.plants, files.cuts, err)
	}
	printer := json.NewEncoder(out)
	printer.SetIndent("", " ")
	return printer.Encode(forecast)
}

// tellOfDoubts says what of the cuts may not be all.
func tellOfDoubts(w io.Writer, cuts string, d forecast.Doubts) {
	if s := d.Silent; s != nil {
		fmt.Fprintf(w, "corymb: the season looks half entered: %s has no cut from %s to %s, when %.0f of 100 stems of the seasons before came; it is taken that nothing opened. If cuts are missing, enter them, or ask with -asof %s\n",
			cuts, s.First, s.Last, 100*d.Part, s.First.Add(-1))
	}
	for _, stock := range d.Unseen {
		fmt.Fprintf(w, "corymb: no cut in %s tells of the stock %s yet; common practice and the other stocks speak for it\n", cuts, stock)
	}
}
