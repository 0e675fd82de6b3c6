package main

import (
	"fmt"

	"corymb/internal/crop"
	"corymb/internal/forecast"
	"corymb/server/httpapi"
)

// forecastAhead forecasts what is still to come. What rests on the same as before is said again, but where weeks are left
// to be scored.
func forecastAhead(f crop.Farm, asOf crop.Date, before *httpapi.Forecast) (httpapi.Forecast, error) {
	f = whatForecastsRestOn(f)
	digest, err := digestOf(f)
	if err != nil {
		return httpapi.Forecast{}, err
	}
	rests := fmt.Sprintf("%s as of %s", digest, asOf)
	var kept map[string]forecast.Scored
	if before != nil {
		if before.Rests == rests && before.Scores.Left == 0 {
			return *before, nil
		}
		kept = before.Scored
	}
	answer, scored, err := forecast.All(f, asOf, kept)
	if err != nil {
		return httpapi.Forecast{}, err
	}
	return httpapi.Forecast{Answer: answer, Scored: scored, Rests: rests}, nil
}

// whatForecastsRestOn is a farm without what says nothing of what is to come. The forecast sees no more than this, so that
// nothing can change it that its digest does not show.
func whatForecastsRestOn(f crop.Farm) crop.Farm {
	rests := crop.NewFarm()
	rests.Calendar, rests.AssumedCounted = f.Calendar, f.AssumedCounted
	rests.Beds, rests.Stocks, rests.Plantings, rests.Visits, rests.Sales.Bunches = f.Beds, f.Stocks, f.Plantings, f.Visits, f.Sales.Bunches
	rests.Ahead.Warmth, rests.Ahead.Weather = f.Ahead.Warmth, f.Ahead.Weather
	for id, plant := range f.Plants {
		plant.Reference, plant.Parents = false, nil
		rests.Plants[id] = plant
	}
	return rests
}
