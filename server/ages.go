package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"

	"corymb/internal/crop"
	"corymb/internal/yield"
)

// agesCommand prints the fitted model by age of two spreadsheets, without any farm.
func agesCommand(_ context.Context, args []string, out io.Writer) error {
	set := flags("ages")
	files := spreadsheetFlags(set)
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
	contents, err := files.read(crop.NorthernYear)
	if err != nil {
		return err
	}
	report, err := yield.Fit(contents.Farm, yield.Options{AssumedCounted: contents.Assumed})
	if err != nil {
		return fmt.Errorf("fitting %s and %s: %w", files.plants, files.cuts, err)
	}
	printer := json.NewEncoder(out)
	printer.SetIndent("", " ")
	return printer.Encode(report)
}
