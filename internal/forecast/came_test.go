package forecast

import (
	"testing"

	"corymb/internal/crop"
)

func TestAWeekOfWhichATotalIsMissingIsComparedByCountedPlants(t *testing.T) {
	farm := twoColours(0)
	counted := farm.Plants["00"]
	counted.Counted = map[crop.Season]crop.Window{2025: farm.Calendar.Span(2025)}
	farm.Plants["00"] = counted
	bench(farm, "2025-05-13", crop.Count{Stems: 30})
	bench(farm, "2025-05-20", crop.Count{Stems: 40})
	for _, day := range []crop.Date{"2025-05-20", "2025-05-22"} {
		id := crop.VisitID("one " + day)
		farm.Visits[id] = crop.Visit{ID: id, Plant: "00", Date: day, Purpose: crop.PurposeCut, Counts: []crop.Count{{Stems: 3}}}
	}
	r := read(farm, "2025-06-01")
	came := r.came()
	tests := []struct {
		name   string
		monday crop.Date
		told   bool // of the plants that nobody counts
	}{
		{"every cut has its total", "2025-05-12", true},
		{"one cut has none", "2025-05-19", false},
		{"nothing was cut", "2025-05-26", true},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			for i := range r.cohorts {
				c := &r.cohorts[i]
				if told := came.tells(c, test.monday); told != (test.told || !c.uncounted) {
					t.Errorf("uncounted %v: told %v", c.uncounted, told)
				}
			}
		})
	}
	whole, _ := came.in("2025-05-19", nil)
	part, _ := came.in("2025-05-19", map[crop.BedID]bool{"B": true})
	if whole != 43 || part != 6 {
		t.Errorf("%d came, %d of counted plants; want 43 and 6", whole, part)
	}
	if s, err := scoreWeek(farm, came, "2025-05-19"); err != nil || s.Came != 6 || s.Unknown != 19 {
		t.Errorf("%+v (%v), want 6 of the counted one and 19 plants unknown", s, err)
	}
}

func TestWeeksInWhichNothingHappenedHaveNamesOfTheirOwn(t *testing.T) {
	names, err := newRests(twoColours(0))
	if err != nil {
		t.Fatal(err)
	}
	if first, second := names.upTo("2025-05-12"), names.upTo("2025-05-19"); first == second {
		t.Errorf("both are %s", first)
	}
}
