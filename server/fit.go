package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"corymb/internal/counting"
	"corymb/internal/crop"
	"corymb/internal/yield"
	"corymb/server/httpapi"
)

// fitAges fits the model by age of every species that was planted, and says what counting would tell.
// A species that rests on the same as before keeps what was said then.
func fitAges(f crop.Farm, asOf crop.Date, before []httpapi.SpeciesAges) ([]httpapi.SpeciesAges, error) {
	f = whatAgesRestOn(f)
	digest, err := digestOf(f)
	if err != nil {
		return nil, err
	}
	fitted := []httpapi.SpeciesAges{}
	for _, species := range plantedSpecies(f) {
		rests := fmt.Sprintf("%s as of %s", digest, asOf)
		same := slices.IndexFunc(before, func(b httpapi.SpeciesAges) bool { return b.Species == species && b.Rests == rests })
		if same >= 0 {
			fitted = append(fitted, before[same])
			continue
		}
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
		said, err := json.Marshal(plan)
		if err != nil {
			return nil, fmt.Errorf("planning %q: %w", species, err)
		}
		fitted = append(fitted, httpapi.SpeciesAges{Species: species, Report: report, Plan: said, Rests: rests})
	}
	return fitted, nil
}

// whatAgesRestOn is a farm without what says nothing of stems. The fit sees no more than this, so that nothing can
// change it that its digest does not show.
func whatAgesRestOn(f crop.Farm) crop.Farm {
	rests := crop.NewFarm()
	rests.Calendar, rests.AssumedCounted = f.Calendar, f.AssumedCounted
	rests.Beds, rests.Stocks, rests.Plantings, rests.Visits = f.Beds, f.Stocks, f.Plantings, f.Visits
	for id, plant := range f.Plants {
		plant.Colour, plant.Reference, plant.Parents = "", false, nil
		rests.Plants[id] = plant
	}
	return rests
}

// digestOf names all that a farm holds.
func digestOf(f crop.Farm) (string, error) {
	digest := sha256.New()
	if err := json.NewEncoder(digest).Encode(f); err != nil { // which sorts what is in maps
		return "", fmt.Errorf("looking for what changed on the farm: %w", err)
	}
	return hex.EncodeToString(digest.Sum(nil)), nil
}

func plantedSpecies(f crop.Farm) []string {
	var found []string
	for _, p := range f.Plantings {
		found = append(found, f.Stocks[p.Stock].Species)
	}
	slices.Sort(found)
	return slices.Compact(found)
}
