package main

import (
	"fmt"

	"corymb/internal/crop"
	"corymb/internal/money"
	"corymb/server/httpapi"
)

// worthOfPlants finds what one more plant of each age would bring. What plants give is drawn anew where anything was counted,
// planted or lifted since; what stems left is of the books as they are.
func worthOfPlants(f crop.Farm, season crop.Season, asOf crop.Date, hour crop.Cents, before *httpapi.Worth) (httpapi.Worth, error) {
	digest, err := digestOf(whatDrawsRestOn(f))
	if err != nil {
		return httpapi.Worth{}, err
	}
	found := httpapi.Worth{Season: season, AsOf: asOf, Rests: fmt.Sprintf("%s of %d as of %s", digest, season, asOf)}
	if before != nil && before.Rests == found.Rests {
		found.Draws = before.Draws
	} else if found.Draws, err = money.DrawPlants(whatDrawsRestOn(f), season, asOf); err != nil {
		return httpapi.Worth{}, err
	}
	found.Species = money.WorthOf(f, money.Of(f, season, hour), found.Draws)
	return found, nil
}

// whatDrawsRestOn is a farm without what says nothing of how many stems plants give. The draws see no more than this, so that
// nothing can change them that its digest does not show.
func whatDrawsRestOn(f crop.Farm) crop.Farm {
	rests := crop.NewFarm()
	rests.Calendar, rests.AssumedCounted = f.Calendar, f.AssumedCounted
	rests.Beds, rests.Stocks, rests.Plantings, rests.Plants, rests.Visits = f.Beds, f.Stocks, f.Plantings, f.Plants, f.Visits
	return rests
}
