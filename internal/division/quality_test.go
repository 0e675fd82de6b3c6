package division

import (
	"testing"

	"corymb/internal/crop"
)

func TestEachSpeciesIsGradedAsItsOwnStemsWere(t *testing.T) {
	farm, _ := middling()
	farm.Stocks["tall"] = crop.Stock{ID: "tall", Species: "phlox"}
	farm.Plantings["T"] = crop.Planting{ID: "T", Stock: "tall", Bed: "T", Planted: "2024-10-01", FirstSeason: 2025}
	farm.Plants["T-1"] = crop.Plant{ID: "T-1", Planting: "T"}
	farm.Visits["T-1 cut"] = crop.Visit{
		ID: "T-1 cut", Plant: "T-1", Date: "2026-06-01", Purpose: crop.PurposeCut, Counts: []crop.Count{{Grade: crop.GradeSecond, Stems: 400}},
	}
	graded := gradedOn(farm)
	species := farm.Stocks["strain"].Species
	seconds := func(species string) float64 {
		return dirichletMean(usualGrades(graded, species)[1])[crop.GradeSecond.Rank()]
	}
	if phlox, yarrow := seconds("phlox"), seconds(species); phlox < 0.7 || yarrow > phlox-0.3 {
		t.Errorf("seconds are %v of phlox, all of which were, and %v of the others", phlox, yarrow)
	}
	before, _ := middling()
	alone := dirichletMean(usualGrades(gradedOn(before), species)[1])[crop.GradeSecond.Rank()]
	if beside := seconds(species); beside > alone+0.1 {
		t.Errorf("seconds are %v of a species, and %v beside another that gives nothing else", alone, beside)
	}
	if never := seconds("never cut"); never < 0.1 || never > 0.9 {
		t.Errorf("of a species that was never cut %v are seconds: others should speak for it", never)
	}
}

func TestEachColourIsCutWhenItsSpeciesIs(t *testing.T) {
	farm, q := middling()
	farm.Stocks["tall"] = crop.Stock{ID: "tall", Species: "phlox"}
	farm.Plantings["T"] = crop.Planting{ID: "T", Stock: "tall", Bed: "T", Planted: "2024-10-01", FirstSeason: 2025}
	farm.Plants["T-1"] = crop.Plant{ID: "T-1", Planting: "T", Colour: "white"}
	farm.Visits["T-1 cut"] = crop.Visit{
		ID: "T-1 cut", Plant: "T-1", Date: "2026-08-01", Purpose: crop.PurposeCut, Flush: crop.FlushSpring, Counts: []crop.Count{{Grade: crop.GradeFirst, Stems: 40}},
	}
	q.Wanted = []Wanted{{Colour: "white", Due: "2028-08-03", Stems: 5}, {Colour: "white", Due: "2028-05-29", Stems: 5}, {Colour: "coral", Due: "2028-05-29", Stems: 5}}
	met := planOf(t, farm, q).Wanted
	if met[0].Mean <= 0 || met[1].Mean != 0 || met[2].Mean <= 0 {
		t.Errorf("white blooms in August alone and coral in May: %+v", met)
	}
}
