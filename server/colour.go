package main

import (
	"fmt"
	"hash/fnv"
	"maps"
	"slices"

	"corymb/internal/crop"
	"corymb/internal/drift"
	"corymb/server/httpapi"
)

// judgeColours says of every species that was planted what its measured colours tell. A species whose readings are those
// of before keeps the report of then.
func judgeColours(f crop.Farm, before []httpapi.SpeciesColour) ([]httpapi.SpeciesColour, error) {
	judged := []httpapi.SpeciesColour{}
	for _, species := range plantedSpecies(f) {
		stand, leftOut := standOf(f, species)
		rests := restsOn(stand)
		said := httpapi.SpeciesColour{Species: species, LeftOut: leftOut, Rests: rests}
		same := slices.IndexFunc(before, func(b httpapi.SpeciesColour) bool { return b.Species == species && b.Rests == rests })
		if same >= 0 {
			said.Report = before[same].Report
			judged = append(judged, said)
			continue
		}
		report, err := drift.Judge(stand)
		if err != nil {
			return nil, fmt.Errorf("judging the colours of %q: %w", species, err)
		}
		said.Report = report
		judged = append(judged, said)
	}
	return judged, nil
}

// standOf is the readings of a species as the model takes them, and how many were left out because no photo can have
// given them. A day is one session of each camera.
func standOf(f crop.Farm, species string) (stand drift.Stand, leftOut int) {
	of := func(p crop.Plant) bool { return f.Stocks[f.Plantings[p.Planting].Stock].Species == species }
	for _, id := range slices.Sorted(maps.Keys(f.Plants)) {
		if p := f.Plants[id]; p.Reference && of(p) {
			stand.References = append(stand.References, id)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(f.Readings)) {
		r := f.Readings[id]
		plant, known := f.Plants[r.Plant]
		if !known || !of(plant) {
			continue
		}
		if !r.Date.Valid() || min(r.SE.L, r.SE.A, r.SE.B) <= 0 {
			leftOut++
			continue
		}
		stand.Readings = append(stand.Readings, drift.Reading{
			Plant: r.Plant, Season: f.Calendar.SeasonOf(r.Date), Date: r.Date, Camera: r.Camera, Stage: r.Stage,
			Light: r.Light, Lab: r.Colour, SE: [3]float64{r.SE.L, r.SE.A, r.SE.B}, Card: trusted(f, r),
		})
	}
	return stand, leftOut
}

// trusted is the batch of the card that a reading was made with; empty where the batch had been retired before that
// day, which its phone may not have known: such a reading says as little as one without a card. On the day itself it was
// in use until somebody retired it. One of a batch that was never characterised is as wide as its phone said.
func trusted(f crop.Farm, r crop.Reading) string {
	if retired := f.Cards[r.Card].Retired; retired != "" && retired < r.Date {
		return ""
	}
	return string(r.Card)
}

// restsOn names everything that a report comes from.
func restsOn(stand drift.Stand) string {
	digest := fnv.New64a()
	fmt.Fprintf(digest, "%q", stand.References)
	for _, r := range stand.Readings {
		fmt.Fprintf(digest, "%q %d %v %v", []string{string(r.Plant), string(r.Date), r.Camera, string(r.Stage), string(r.Light), r.Card}, r.Season, r.Lab, r.SE)
	}
	return fmt.Sprintf("%016x", digest.Sum64())
}
