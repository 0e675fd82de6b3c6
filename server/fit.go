package main

import (
	"fmt"
	"slices"

	"corymb/internal/counting"
	"corymb/internal/crop"
	"corymb/internal/yield"
	"corymb/server/httpapi"
)

// fitAges fits the model by age of every species that was planted, and says what counting would tell.
func fitAges(f crop.Farm, asOf crop.Date) ([]httpapi.SpeciesAges, error) {
	fitted := []httpapi.SpeciesAges{}
	for _, species := range plantedSpecies(f) {
		report, err := yield.Fit(f, yield.Options{
			Species: species, AsOf: asOf, AssumedCounted: f.AssumedCounted,
		})
		if err != nil {
			return nil, fmt.Errorf("fitting %q: %w", species, err)
		}
		season := f.Calendar.SeasonOf(asOf)
		plan, err := counting.For(report, season, counting.AgesAhead(f, species, season))
		if err != nil {
			return nil, fmt.Errorf("planning %q: %w", species, err)
		}
		fitted = append(fitted, httpapi.SpeciesAges{Species: species, Report: report, Plan: plan})
	}
	return fitted, nil
}

func plantedSpecies(f crop.Farm) []string {
	var found []string
	for _, p := range f.Plantings {
		found = append(found, f.Stocks[p.Stock].Species)
	}
	slices.Sort(found)
	return slices.Compact(found)
}
