package crop

import "testing"

func TestAgeIsTheSeasonInTheGround(t *testing.T) {
	// Set in the autumn of 2022 the first season is 2023; set before the flush of 2023 it is 2023 too.
	g := Planting{Planted: "2022-09-20", FirstSeason: 2023}
	for season, want := range map[Season]int{2021: -1, 2022: 0, 2023: 1, 2024: 2, 2030: 8} {
		if got := g.AgeIn(season); got != want {
			t.Errorf("age in %d is %d, want %d", season, got, want)
		}
	}
}

func TestWindowsHoldBothTheirEnds(t *testing.T) {
	w := Window{From: "2025-04-01", To: "2025-07-31"}
	for day, want := range map[Date]bool{
		"2025-03-31": false, "2025-04-01": true, "2025-06-01": true, "2025-07-31": true, "2025-08-01": false,
	} {
		if got := w.Holds(day); got != want {
			t.Errorf("holds %s is %v", day, got)
		}
	}
}

func TestWindowsOverlapWhereTheyShareADay(t *testing.T) {
	w := Window{From: "2025-04-01", To: "2025-07-31"}
	cases := []struct {
		name  string
		other Window
		want  bool
	}{
		{"itself", w, true},
		{"inside", Window{"2025-05-01", "2025-05-01"}, true},
		{"around", Window{"2024-01-01", "2026-12-31"}, true},
		{"sharing the first day", Window{"2025-01-01", "2025-04-01"}, true},
		{"sharing the last day", Window{"2025-07-31", "2025-12-31"}, true},
		{"ending the day before", Window{"2025-01-01", "2025-03-31"}, false},
		{"starting the day after", Window{"2025-08-01", "2025-12-31"}, false},
	}
	for _, c := range cases {
		if w.Overlaps(c.other) != c.want || c.other.Overlaps(w) != c.want {
			t.Errorf("%s: want %v both ways", c.name, c.want)
		}
	}
}

func TestStemsOfAVisitAreThoseOfAllItsCounts(t *testing.T) {
	v := Visit{Counts: []Count{{Grade: GradeExtra, Stems: 2}, {Grade: GradeOut, Stems: 3}, {Stems: 4}}}
	if v.Stems() != 9 || (Visit{}).Stems() != 0 {
		t.Errorf("stems are %d, and %d of no count", v.Stems(), Visit{}.Stems())
	}
}

func TestANewFarmIsReadyToFill(t *testing.T) {
	f := NewFarm()
	f.Plants["a"] = Plant{ID: "a"} // would panic on a map that was never made
	f.Visits["v"] = Visit{ID: "v"}
	f.Beds["b"] = Bed{ID: "b"}
	f.Stocks["s"] = Stock{ID: "s"}
	f.Plantings["g"] = Planting{ID: "g"}
	f.People["p"] = Person{ID: "p"}
	f.Colours["c"] = Colour{ID: "c"}
	if f.Unit != Centimetres || f.Calendar != NorthernYear || f.MadeUp {
		t.Errorf("new farm is in %s on %v, made up: %v", f.Unit, f.Calendar, f.MadeUp)
	}
}
