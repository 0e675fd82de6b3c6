package main

import (
	"context"
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
	files, warmth, asked := spreadsheetFlags(set), readWarmthFlags(set), answerFlags(set, "today", "json")
	if err := parse(set, args); err != nil {
		return err
	}
	if err := files.named(set); err != nil {
		return err
	}
	if err := warmth.checked(set); err != nil {
		return err
	}
	asOf, err := asked.checked(set)
	if err != nil {
		return err
	}
	if asOf == "" {
		asOf = crop.DateOf(time.Now())
	}
	defer debug.SetGCPercent(debug.SetGCPercent(forecastGCPercent))
	contents, err := files.read(sheets.UpTo(asOf))
	if err != nil {
		return err
	}
	tellNotes(os.Stderr, contents)
	if err := warmth.addTo(&contents.Farm, asOf, os.Stderr); err != nil {
		return err
	}
	tellOfDoubts(os.Stderr, files.cuts, forecast.DoubtsOf(contents.Farm, asOf))
	ahead, err := forecast.Of(contents.Farm, asOf)
	if err != nil {
		return fmt.Errorf("forecasting from %s and %s: %w", files.plants, files.cuts, err)
	}
	warmth.tellOfUse(os.Stderr, ahead.Warmth)
	return printJSON(out, ahead)
}

// tellOfDoubts says what of the cuts may not be all.
func tellOfDoubts(w io.Writer, cuts string, d forecast.Doubts) {
	if s := d.Silent; s != nil {
		fmt.Fprintf(w, "corymb: the season looks half entered: %s has no cut from %s to %s, when %.0f of 100 stems of the seasons before came; it is taken that nothing opened. If cuts are missing, enter them, or ask with -asof %s\n",
			cuts, s.First, s.Last, 100*s.Part, s.First.Add(-1))
	}
	for _, stock := range d.Unseen {
		fmt.Fprintf(w, "corymb: no cut in %s tells of the stock %s yet; common practice and the other stocks speak for it\n", cuts, stock)
	}
}
