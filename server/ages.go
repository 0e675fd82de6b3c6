package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"runtime/debug"

	"corymb/internal/yield"
)

// agesGCPercent spends no time that can be measured on a third less memory for a farm of thousands of plants.
const agesGCPercent = 40

// agesCommand prints the fitted model by age of two spreadsheets, without any farm.
func agesCommand(_ context.Context, args []string, out io.Writer) error {
	set := flags("ages")
	files := spreadsheetFlags(set)
	format := set.String("format", "json", "how to print it; only json so far")
	prior := set.String("prior", string(yield.PriorPractice), "practice: the full model, about what is common practice; "+
		"flat: plain maximum likelihood of a smaller one, for comparison with other programs")
	if err := parse(set, args); err != nil {
		return err
	}
	if *format != "json" {
		return wrongUsage(set, "-format %s is not known: use json", *format)
	}
	if *prior != string(yield.PriorPractice) && *prior != string(yield.PriorFlat) {
		return wrongUsage(set, "-prior %s is not known: use practice or flat", *prior)
	}
	if err := files.named(set); err != nil {
		return err
	}
	defer debug.SetGCPercent(debug.SetGCPercent(agesGCPercent))
	contents, err := files.read()
	if err != nil {
		return err
	}
	report, err := yield.Fit(contents.Farm, yield.Options{AssumedCounted: contents.Assumed, Prior: yield.Prior(*prior)})
	if err != nil {
		return fmt.Errorf("fitting %s and %s: %w", files.plants, files.cuts, err)
	}
	printer := json.NewEncoder(out)
	printer.SetIndent("", " ")
	return printer.Encode(report)
}
